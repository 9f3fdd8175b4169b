import { useState } from 'react';
import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import { useParts } from '../../../app-parts.ts';
import { Field } from '../../../components/Field.tsx';
import { useVisit } from '../use-visit.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import './safety.css';

/** Every jumper and unplugged detector, from before it is made until it is out again. */
export function BypassList({ offered }: { offered: boolean }) {
  const { visits } = useParts();
  const { visit, may, edit, put } = useVisit();
  const [what, setWhat] = useState('');
  const [refused, setRefused] = useState<string>();
  const anything = visit.bypasses.length > 0;
  if (!offered && !anything) return null;
  const open = (): void => {
    if (what.trim() === '') return;
    const after = { what: what.trim().slice(0, 120), openedWallMs: visits.nowWallMs() };
    const why = edit({ path: ['bypasses', visit.bypasses.length], after });
    setRefused(why);
    if (why === undefined) setWhat('');
  };
  return (
    <section className="bypasses" aria-label={words.bypasses}>
      <div
        className="form-row"
        onKeyDown={(event) => {
          if (event.key !== 'Enter' || event.nativeEvent.isComposing || !(event.target instanceof HTMLInputElement)) return;
          event.preventDefault();
          open();
        }}
      >
        <Field label={words.bypassWhat} value={what} change={setWhat} numeric={false} width={340} disabled={!may} error={refused} />
        <button type="button" className="button" disabled={!may || what.trim() === ''} onClick={open}>
          {words.bypassOpen}
        </button>
      </div>
      {anything && (
        <ul>
          {visit.bypasses.map((bypass, at) => (
            <li key={at}>
              <span className={bypass.closedWallMs === undefined ? 'bold' : 'second'}>{bypass.what}</span>
              {bypass.closedWallMs === undefined ? (
                <button
                  type="button"
                  className="button"
                  disabled={!may}
                  onClick={() => put({ path: ['bypasses', at, 'closedWallMs'], after: visits.nowWallMs() })}
                >
                  {words.bypassClose}
                </button>
              ) : (
                <span className="second small">{words.bypassClosedAt(formatClock(bypass.closedWallMs, visit.zoneMinutes, 'minutes'))}</span>
              )}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

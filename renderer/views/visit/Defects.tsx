import { useState } from 'react';
import { defectWeights } from '../../../shared/tuning/visit/work-done.ts';
import { changedWords, workWords as words } from '../../../shared/words/tune/trade.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Choice, Field } from '../../components/Field.tsx';
import { KeptField } from '../../fields/KeptField.tsx';
import { plainText } from '../../fields/typed.ts';
import { useVisit } from './use-visit.ts';
import './visit.css';
import './work.css';

/** what is typed and not yet saved stays while another step is looked at */
const DEFECT = 'defect-typed';

/** Defects that are left, each with what it means for the owner. */
export function Defects() {
  const { visits } = useParts();
  const { visit, may, edit, put } = useVisit();
  const typed = useApp((state) => state.fieldTexts[DEFECT]);
  const keepText = useApp((state) => state.fieldTyped);
  const [refused, setRefused] = useState<string>();
  const text = typed ?? '';
  const defects = visit.defects ?? [];
  const add = (): void => {
    const what = text.trim();
    if (what === '') return;
    const defect = { wallMs: visits.nowWallMs(), text: what.slice(0, 300), weight: 'repair-soon' };
    const why = edit(
      visit.defects === undefined ? { path: ['defects'], after: [defect] } : { path: ['defects', defects.length], after: defect },
    );
    setRefused(why);
    if (why === undefined) keepText(DEFECT, undefined);
  };
  return (
    <section aria-label={words.defects}>
      <h2>{words.defects}</h2>
      {defects.length === 0 && <p className="second">{words.noDefects}</p>}
      {defects.length > 0 && (
        <div className="work-row work-head" aria-hidden="true">
          <span />
          <span>{words.weight}</span>
          <span>{words.tag}</span>
        </div>
      )}
      <ul className="work-list">
        {defects.map((defect, at) => (
          <li key={`${defect.wallMs}-${at}`} className="work-row">
            <b>{defect.text}</b>
            <Choice
              bare
              label={`${words.weight}: ${defect.text}`}
              value={defect.weight}
              disabled={!may}
              change={(weight) => put({ path: ['defects', at], after: { ...defect, weight } })}
              options={defectWeights.map((value) => ({ value, text: words.weights[value] }))}
            />
            <KeptField
              name={`defect-tag-${at}`}
              label={`${words.tag}: ${defect.text}`}
              bare
              numeric={false}
              disabled={!may}
              shown={defect.tag ?? ''}
              parse={plainText}
              keep={(tag) => {
                const { tag: _gone, ...rest } = defect;
                return edit({ path: ['defects', at], after: tag === undefined ? rest : { ...rest, tag } });
              }}
            />
            <button
              type="button"
              className="button small"
              aria-label={`${changedWords.remove}: ${defect.text}`}
              disabled={!may}
              onClick={() => put({ path: ['defects'], after: defects.filter((_, index) => index !== at) })}
            >
              ×
            </button>
          </li>
        ))}
      </ul>
      <form
        className="form-row align-end"
        onSubmit={(event) => {
          event.preventDefault();
          add();
        }}
      >
        <Field
          label={words.defect}
          value={text}
          change={(next) => {
            setRefused(undefined);
            keepText(DEFECT, next);
          }}
          error={refused}
          numeric={false}
          width={330}
          disabled={!may}
        />
        <button type="submit" className="button" disabled={!may || text.trim() === ''}>
          {words.addDefect}
        </button>
      </form>
    </section>
  );
}

import { source } from '../../../shared/words/source.ts';
import { useApp } from '../../app-parts.ts';
import { BrokenSlot, GoSign } from '../../components/Signs.tsx';
import { useDigits } from '../../keys/use-key.ts';
import type { SourceKind } from '../../state/view-slice.ts';
import './source.css';
import './SourceKinds.css';

export const sourceKinds: readonly SourceKind[] = ['serial', 'typed', 'simulated', 'replay'];

/** The four places that lines can come from, as rows; keys 1 to 4. */
export function SourceKinds({
  chosen,
  choose,
  disabled = false,
}: {
  chosen: SourceKind | undefined;
  choose: (kind: SourceKind) => void;
  disabled?: boolean;
}) {
  const portCount = useApp((state) => state.ports.length);
  useDigits((digit) => {
    const kind = sourceKinds[Number(digit) - 1];
    if (kind !== undefined) choose(kind);
  }, !disabled);
  return (
    <ul className="source-kinds">
      {sourceKinds.map((kind, index) => {
        const isNone = kind === 'serial' && portCount === 0;
        const about =
          kind !== 'serial' ? source.kinds[kind].about : isNone ? source.kinds.serial.none : source.kinds.serial.some(portCount);
        return (
          <li key={kind}>
            <button
              type="button"
              className={`source-kind${isNone ? ' none' : ''}`}
              aria-pressed={chosen === undefined ? undefined : chosen === kind}
              onClick={() => choose(kind)}
            >
              <kbd aria-hidden="true">{index + 1}</kbd>
              <span className="grow">
                <span className="name line-own">{source.kinds[kind].title}</span>
                <span className="about">{about}</span>
              </span>
              {isNone && chosen === undefined ? (
                <span className="row second gap-3">
                  <BrokenSlot />
                  {source.kinds.serial.looking}
                </span>
              ) : (
                <GoSign />
              )}
            </button>
          </li>
        );
      })}
    </ul>
  );
}

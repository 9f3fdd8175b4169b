import { nozzlePatterns } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import { setUpWords } from '../../../shared/words/visit/set-up-items.ts';
import { setUpScreen } from '../../../shared/words/visit/screens/set-up.ts';
import { KeptField } from '../../fields/KeptField.tsx';
import { fieldOf } from '../visit/steps/set-up/set-up-fields.ts';
import type { Lead } from './use-lead.ts';
import './geometry.css';
import { Choice } from '../../components/Field.tsx';

/** Angle and pattern beside the flow, and what the card asks for. */
export function NozzleRest({ lead: { here, side, now } }: { lead: Lead }) {
  const { visit, units, may, edit } = here;
  const row = visit.setUp.rows.nozzleAngleDeg;
  const angle = fieldOf('nozzleAngleDeg', units, visit.setUp.lengthUnit);
  const value = row?.[side];
  const wanted = [now.card?.nozzle?.angle, now.card?.nozzle?.pattern].filter(Boolean).join(', ');
  return (
    <div className="nozzle-rest">
      <KeptField
        name={`nozzle-angle-${side}`}
        label={setUpWords.nozzleAngleDeg}
        unit={angle.unit}
        width={120}
        disabled={!may}
        shown={value === undefined ? '' : angle.write(value)}
        parse={angle.read}
        keep={(after) => edit({ path: ['setUp', 'rows', 'nozzleAngleDeg'], after: { ...row, [side]: after } })}
      />
      <div>
        <div className="field-label">{setUpScreen.pattern}</div>
        <Choice
          bare
          label={setUpScreen.pattern}
          value={visit.setUp.nozzlePattern?.[side] ?? ''}
          width={150}
          disabled={!may}
          change={(pattern) =>
            here.put({
              path: ['setUp', 'nozzlePattern'],
              after: { ...visit.setUp.nozzlePattern, [side]: pattern === '' ? undefined : pattern },
            })
          }
          options={[
            { value: '' as const, text: setUpScreen.patterns[''] },
            ...nozzlePatterns.map((one) => ({ value: one, text: setUpScreen.patterns[one] })),
          ]}
        />
      </div>
      {wanted !== '' && <p className="small second">{`${now.card?.name ?? ''}: ${wanted}`}</p>}
    </div>
  );
}

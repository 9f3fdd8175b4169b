import { checkPosition } from '../../../../shared/tuning/trial/adjuster.ts';
import { withPosition, positionOf } from '../../../../shared/tuning/trial/setting.ts';
import { positionRefusal } from '../../../../shared/words/visit/refusals.ts';
import { setUpScreen as words } from '../../../../shared/words/visit/screens/set-up.ts';
import { useApp } from '../../../app-parts.ts';
import { settingLeft } from '../../../../shared/tuning/visit/carry-over.ts';
import { settingWords } from '../../tune/setting-words.ts';
import { KeptField } from '../../../fields/KeptField.tsx';
import { typedPlain } from '../../../fields/typed.ts';
import type { VisitHere } from '../use-visit.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';
import '../visit.css';

export function AdjustersFound({ here: { visit, stage, may, edit, put, formats } }: { here: VisitHere }) {
  const setting = visit.settingFound;
  const lastVisit = useApp((state) => state.lastVisit);
  const left = setting === undefined ? settingLeft(lastVisit, stage.name, visit.adjusters) : undefined;
  return (
    <fieldset className="adjusters-found">
      <legend className="field-label">{words.adjusters}</legend>
      {visit.adjusters.map((adjuster) => {
        const value = setting === undefined ? undefined : positionOf(setting, adjuster.name);
        const keep = (position: number | undefined): string | undefined => {
          if (position === undefined) {
            const positions = (setting?.positions ?? []).filter(({ name }) => name !== adjuster.name);
            return edit({ path: ['settingFound'], after: positions.length === 0 ? undefined : { stage: '1', positions } });
          }
          const checked = checkPosition(adjuster, position);
          if (!checked.ok) return positionRefusal(checked.error, formats);
          return edit({ path: ['settingFound'], after: withPosition(setting ?? { stage: '1', positions: [] }, adjuster.name, position) });
        };
        return (
          <KeptField
            key={adjuster.name}
            name={`found-${adjuster.name}`}
            label={adjuster.name}
            width={150}
            disabled={!may}
            unit={adjuster.unit}
            shown={value === undefined ? '' : formatPosition(value)}
            parse={(text) => typedPlain(text)}
            keep={keep}
          />
        );
      })}
      {left !== undefined && (
        <button type="button" className="button" disabled={!may} onClick={() => put({ path: ['settingFound'], after: left })}>
          {words.sameAsLeft(settingWords(left))}
        </button>
      )}
    </fieldset>
  );
}

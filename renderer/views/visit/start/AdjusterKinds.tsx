/** Asked once, of adjusters from earlier versions whose name does not say it: what does each of them move? */
import { adjusterKinds, kindOf } from '../../../../shared/tuning/trial/adjuster.ts';
import { settingsWords } from '../../../../shared/words/settings.ts';
import { Choice } from '../../../components/Field.tsx';
import { useVisit } from '../use-visit.ts';
import '../visit.css';

export function AdjusterKinds() {
  const { visit, may, put } = useVisit();
  const unsaid = visit.adjusters.filter((adjuster) => kindOf(adjuster) === undefined);
  if (unsaid.length === 0 || !may) return null;
  return (
    <fieldset className="adjusters-found">
      <legend className="field-label">{settingsWords.adjusterKindAsk}</legend>
      {unsaid.map((adjuster) => (
        <Choice
          key={adjuster.name}
          label={`${adjuster.name} ${settingsWords.adjusterKind}`}
          value=""
          width={170}
          change={(kind) => kind !== '' && put({ path: ['adjusters', visit.adjusters.indexOf(adjuster)], after: { ...adjuster, kind } })}
          options={(['', ...adjusterKinds] as const).map((value) => ({ value, text: settingsWords.adjusterKinds[value] }))}
        />
      ))}
    </fieldset>
  );
}

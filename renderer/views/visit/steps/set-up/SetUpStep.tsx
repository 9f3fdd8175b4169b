import { useState } from 'react';
import { nozzlePatterns, setUpItemNames } from '../../../../../shared/tuning/set-up/set-up-sheet.ts';
import { isMoved, unitChanges } from '../../../../../shared/tuning/set-up/geometry-now.ts';
import { setUpScreen as words } from '../../../../../shared/words/visit/screens/set-up.ts';
import { trueSizeWords } from '../../../../../shared/words/paper/geometry-sheet.ts';
import { leadWords } from '../../../../../shared/words/geometry/lead.ts';
import { useApp } from '../../../../app-parts.ts';
import { Key } from '../../../../components/Key.tsx';
import { useKey } from '../../../../keys/use-key.ts';
import { GeometryFar } from '../../../geometry/GeometryFar.tsx';
import { GeometryLead } from '../../../geometry/GeometryLead.tsx';
import { GeometryRows, tableTitle } from '../../../geometry/GeometryTable.tsx';
import { TrueSizeDialog } from '../../../geometry/TrueSizeDialog.tsx';
import { HandCaution } from '../../../geometry/parts.tsx';
import { useLead, type Lead } from '../../../geometry/use-lead.ts';
import { optionsOf } from '../../../../fields/KeptField.tsx';
import { AdjusterKinds } from '../../start/AdjusterKinds.tsx';
import { useGoOn, StepFrame } from '../frame/StepFrame.tsx';
import { OilLine } from '../../start/OilLine.tsx';
import { StageNozzles } from '../../start/StageNozzles.tsx';
import '../../visit.css';
import '../frame/StepFrame.css';
import '../steps.css';
import { SetUpRowView } from './SetUpRow.tsx';
import { AdjustersFound } from '../AdjustersFound.tsx';
import { SetUpRight } from './SetUpRight.tsx';
import { Choice } from '../../../../components/Field.tsx';

/** Measured before firing, against the burner maker's figures: one at a time in the order of the hands, or everything in a table. */
export function SetUpStep() {
  const [isTable, setTable] = useState(false);
  const far = useApp((state) => state.far);
  const { text, go } = useGoOn('set-up');
  const lead = useLead({ name: text, run: go });
  if (far) return <GeometryFar lead={lead} />;
  return isTable ? <SetUpTable lead={lead} toLead={() => setTable(false)} /> : <GeometryLead lead={lead} toTable={() => setTable(true)} />;
}

function SetUpTable({ lead: { here, now }, toLead }: { lead: Lead; toLead: () => void }) {
  const { visit, may } = here;
  const [isSheet, setSheet] = useState(false);
  useKey('together', toLead);
  return (
    <StepFrame
      step="set-up"
      right={<SetUpRight here={here} now={now} />}
      others={
        <>
          <button type="button" className="button" onClick={() => setSheet(true)}>
            {trueSizeWords.title}
          </button>
          <button type="button" className="button tall" onClick={toLead}>
            {leadWords.oneAtATime} <Key action="together" />
          </button>
        </>
      }
    >
      {isSheet && <TrueSizeDialog close={() => setSheet(false)} />}
      <div className="set-up-head">
        <h2>{words.title}</h2>
        <span className="second small grow">{tableTitle(now)}</span>
        <span className="second small unwrapped">{words.lengthUnit}</span>
        <Choice
          bare
          label={words.lengthUnit}
          value={visit.setUp.lengthUnit}
          width={150}
          disabled={!may}
          change={(unit) => here.put(...unitChanges(visit.setUp, unit))}
          options={optionsOf(words.lengthUnits)}
        />
      </div>
      <HandCaution caution={words.caution} />
      <AdjustersFound here={here} />
      <AdjusterKinds />
      <table className="set-up" aria-label={words.title}>
        <thead>
          <tr>
            <th scope="col">{words.item}</th>
            <th scope="col">{words.found}</th>
            <th scope="col">{words.left}</th>
            <th scope="col">{words.maker}</th>
            <th scope="col">{words.tolerance}</th>
            <th scope="col" className="scale-column">
              {words.scale}
            </th>
            <th scope="col">{words.verdict}</th>
          </tr>
        </thead>
        <tbody>
          <GeometryRows here={here} now={now} />
          {setUpItemNames
            .filter((item) => !isMoved(item))
            .map((item) => (
              <SetUpRowView key={item} item={item} here={here} />
            ))}
          <tr>
            <th scope="row">{words.pattern}</th>
            {(['asFound', 'asLeft'] as const).map((which) => (
              <td key={which}>
                <Choice
                  bare
                  label={`${words.pattern}, ${which === 'asFound' ? words.found : words.left}`}
                  value={visit.setUp.nozzlePattern?.[which] ?? ''}
                  disabled={!may}
                  change={(pattern) =>
                    here.put({
                      path: ['setUp', 'nozzlePattern'],
                      after: { ...visit.setUp.nozzlePattern, [which]: pattern === '' ? undefined : pattern },
                    })
                  }
                  options={[
                    { value: '' as const, text: words.patterns[''] },
                    ...nozzlePatterns.map((value) => ({ value, text: words.patterns[value] })),
                  ]}
                />
              </td>
            ))}
            <td colSpan={4} />
          </tr>
        </tbody>
      </table>
      <StageNozzles here={here} />
      <OilLine here={here} />
    </StepFrame>
  );
}

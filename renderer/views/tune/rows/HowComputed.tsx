import { explainOne } from '../../../../shared/combustion/figures/explain.ts';
import { fuelOfRun } from '../../../../shared/combustion/co2-max.ts';
import type { DerivedKey } from '../../../../shared/measurement/derived.ts';
import { momentNumbers } from '../../../../shared/pipeline/derive-now.ts';
import { budgetWords, how } from '../../../../shared/words/tune/how.ts';
import { useApp } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Dialog } from '../../../components/Dialog.tsx';
import type { RunRecord } from '../../../state/run-record.ts';
import { formatNumber, formatWithHalf, shownAs } from '../../../../shared/format/quantity.ts';
import './HowComputed.css';

/** One figure taken apart: formula, the numbers that went in, source, and the uncertainty as a list of bars. */
export function HowComputed({ figure, record, close }: { figure: DerivedKey; record: RunRecord; close: () => void }) {
  const units = useApp((state) => state.settings.units);
  const ofToday = useApp((state) => state.settings.tolerances);
  const { face, info } = record;
  // a run keeps what it was begun with, so that its figures and their explanation agree
  const tolerances = info.tolerances ?? ofToday;
  const fuel = fuelOfRun(info);
  if (fuel === undefined) return null;
  const states = Object.values(face.states);
  const input = momentNumbers({ timeMs: face.timeMs, fuel, states, sample: undefined, typedAirC: info.typedAirC, tolerances });
  const explained = explainOne(input, figure);
  if (explained === undefined) return null;
  const { label, basis, unit, value, expanded, rounded, formula, withNumbers, source, blankText, budget } = explained;
  // first as it is on the screen; the formula is in the units that it is written in
  const shown = shownAs(figure, units);
  const isOther = shown.unit !== unit && value !== undefined && expanded !== undefined;
  const asShown = isOther ? formatWithHalf(figure, { value, half: expanded }, units) : undefined;
  return (
    <Dialog title={`${label}${basis === '' ? '' : `, ${basis}`}`} close={close} wide>
      <div className="how">
        {rounded === undefined ? (
          <p className="how-value">
            {how.blank}: <ChannelName text={blankText ?? ''} />
          </p>
        ) : (
          <p className="how-value">
            {asShown === undefined ? (
              <>
                {rounded} {unit} <span className="how-note">{how.now}</span>
              </>
            ) : (
              <>
                {asShown.value} {asShown.half} {asShown.unit} <span className="how-note">{how.nowIn(`${rounded} ${unit}`)}</span>
              </>
            )}
          </p>
        )}
        <h3>{how.formula}</h3>
        <pre className="mono">{formula}</pre>
        {withNumbers !== undefined && (
          <>
            <h3>{how.numbers}</h3>
            <pre className="mono">{withNumbers}</pre>
          </>
        )}
        <h3>{how.source}</h3>
        <p>{source.charAt(0).toUpperCase() + source.slice(1)}</p>
        {rounded !== undefined && (
          <>
            <h3>{how.budget}</h3>
            {budget.length === 0 ? (
              <p>{how.exact}</p>
            ) : (
              <>
                <ul className="how-budget">
                  {budget.map(({ name, u, share }) => (
                    <li key={name}>
                      <span>
                        <ChannelName text={budgetWords[name]} />
                      </span>
                      <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                        <rect className="how-rail" width="100" height="10" />
                        <rect className="how-bar" width={Math.max(1, 100 * share)} height="10" />
                      </svg>
                      <span className="how-share">{share < 0.005 ? how.under : `${Math.round(100 * share)} %`}</span>
                      <span className="how-u">
                        u {formatNumber(u * shown.factor, u < 0.1 ? 3 : 2)} {shown.unit}
                      </span>
                    </li>
                  ))}
                </ul>
                <p className="how-note">{how.budgetNote}</p>
              </>
            )}
          </>
        )}
      </div>
    </Dialog>
  );
}

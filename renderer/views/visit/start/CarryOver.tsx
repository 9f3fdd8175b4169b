/** From the appliance's last visit: what need not be typed again, and on a call-back what it left. */
import { carryOver } from '../../../../shared/tuning/visit/carry-over.ts';
import { isWatermarked } from '../../../../shared/tuning/visit/visit-marks.ts';
import { carryWords } from '../../../../shared/words/tune/trade.ts';
import { sinceWords } from '../../../../shared/words/visit/since-last.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { SinceFinding, SinceTable, useSinceLast } from './SinceLast.tsx';
import { numberOf } from '../visit-facts.ts';
import { useVisit } from '../use-visit.ts';

/** Said as it was done: taken over when the appliance is chosen, and offered again for what was emptied since. */
export function CarryOver() {
  const { visits } = useParts();
  const { visit, may, put } = useVisit();
  const last = useApp((state) => state.lastVisit);
  const said = useApp((state) => state.carriedOver);
  if (last === undefined || !may) return null;
  const { changes, parts } = carryOver(visit, last, carryWords.notes(last.number), visits.nowWallMs());
  // practice is never signed, and counts beside practice only
  const unsigned = last.signature === undefined && !isWatermarked(last) ? ` ${carryWords.unsigned(last.number)}` : '';
  if (parts.length === 0)
    return said?.visitId !== visit.id || said.parts.length === 0 ? null : (
      <p className="second">
        {carryWords.done(
          last.number,
          said.parts.map((part) => carryWords.parts[part]),
        )}
        {unsigned}
      </p>
    );
  return (
    <div className="form-row align-middle">
      <button type="button" className="button" onClick={() => put(...changes)}>
        {carryWords.button(last.number)}
      </button>
      <span className="second">{carryWords.offers(parts.map((part) => carryWords.parts[part])) + unsigned}</span>
    </div>
  );
}

/** A call-back begins with what the last visit left. */
export function LastTime() {
  const { visit, stage } = useVisit();
  const found = stage.asFoundTrialId ?? visit.trials.find(({ reading }) => reading !== undefined)?.id;
  const since = useSinceLast(found);
  if (visit.job !== 'call-back') return null;
  if (typeof since === 'string') return <p className="second">{sinceWords.none[since]}</p>;
  return (
    <>
      <SinceFinding since={since} />
      <SinceTable since={since} foundNumber={numberOf(visit, found)} />
    </>
  );
}

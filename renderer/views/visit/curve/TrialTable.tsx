import { useEffect, useRef, type KeyboardEvent } from 'react';
import { coAirFreePpm } from '../../../../shared/tuning/trial/gas-basis.ts';
import { co2FromO2Percent } from '../../../../shared/combustion/excess-air.ts';
import { fuelOfVisit } from '../../../../shared/tuning/visit/conditions.ts';
import { co2MaxText } from '../../../../shared/report/record/trials.ts';
import { positionOf } from '../../../../shared/tuning/trial/setting.ts';
import type { StaleReason } from '../../../../shared/tuning/visit/staleness.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { figureOf, smokeOf } from '../../../../shared/tuning/trial/trial-figures.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { staleWords } from '../../../../shared/words/visit/steps.ts';
import { foundWords as words } from '../../../../shared/words/visit/screens/as-found.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { useApp } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { numberOf } from '../visit-facts.ts';
import {
  DASH,
  formatNumber,
  formatPosition,
  formatSmoke,
  formatValue,
  formatWithHalf,
  shownAs,
  type UnitSystem,
} from '../../../../shared/format/quantity.ts';
import './curve.css';

type Props = {
  visit: Visit;
  trials: readonly Trial[];
  units: UnitSystem;
  stale?: ReadonlyMap<string, StaleReason>;
  /** highlighted: chosen or running */
  nowId?: string | undefined;
  choose?: (trialId: string) => void;
  temperatures?: boolean;
  /** the highlighted row is brought into view; not where something else comes first */
  follows?: boolean;
};

/** In the box of the table, never by moving the page: what stands over the table is looked at, too. */
function bringIntoItsBox(row: Element | null | undefined): void {
  const box = row?.closest('.table-scroll');
  const head = row?.closest('table')?.querySelector('thead');
  if (row == null || box == null || head == null) return;
  const [own, seen] = [row.getBoundingClientRect(), box.getBoundingClientRect()];
  const top = seen.top + head.getBoundingClientRect().height;
  if (own.bottom > seen.bottom) box.scrollTop += own.bottom - seen.bottom;
  else if (own.top < top) box.scrollTop -= top - own.top;
}

/** One row per setting. Up and down walk, Enter opens, a click chooses and opens. */
export function TrialTable({ visit, trials, units, stale, nowId, choose, temperatures = false, follows = true }: Props) {
  const trialOpened = useApp((state) => state.trialOpened);
  const body = useRef<HTMLTableSectionElement>(null);
  const rows = trials.length;
  useEffect(() => {
    if (!follows) return;
    const bringIntoView = (): void => bringIntoItsBox(body.current?.querySelector('tr[aria-current]'));
    bringIntoView();
    // a lower window would leave it below the edge
    addEventListener('resize', bringIntoView);
    return () => removeEventListener('resize', bringIntoView);
  }, [follows, nowId, rows]);
  const adjusters = visit.adjusters.filter(({ name }) => trials.some((trial) => positionOf(trial.setting, name) !== undefined)).slice(0, 3);
  const onKeyDown = (event: KeyboardEvent<HTMLTableRowElement>, id: string): void => {
    const rows = [...(body.current?.querySelectorAll<HTMLElement>('tr') ?? [])];
    const at = rows.indexOf(event.currentTarget);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: rows.length - 1 }[event.key];
    if (event.key === 'Enter') {
      event.preventDefault();
      return trialOpened(id);
    }
    if (event.key === ' ' && choose !== undefined) {
      event.preventDefault();
      return choose(id);
    }
    const next = to === undefined ? undefined : rows[to];
    if (next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  const draftUnit = shownAs('draft', units).unit;
  const co2Of = co2By(visit);
  return (
    <table className="trial-table" aria-label={visitWords.trialsSide}>
      <thead>
        <tr>
          <th scope="col">{words.columns.trial}</th>
          {adjusters.map(({ name }) => (
            <th scope="col" key={name}>
              {name.toLowerCase()}
            </th>
          ))}
          <th scope="col" className="right">
            <ChannelName text={words.columns.o2} />
          </th>
          {co2Of !== undefined && (
            <th scope="col" className="right" title={words.co2Max(co2Of.max)}>
              <ChannelName text={words.columns.co2} />
            </th>
          )}
          <th scope="col" className="right">
            {words.columns.co}
          </th>
          {temperatures ? (
            <>
              <th scope="col" className="right">{`${words.columns.stack} ${shownAs('stackTemperature', units).unit}`}</th>
              <th scope="col" className="right">{`${words.columns.air} ${shownAs('airTemperature', units).unit}`}</th>
            </>
          ) : (
            <th scope="col" className="right">
              {words.columns.coAirFree}
            </th>
          )}
          <th scope="col" className="right">
            {words.columns.smoke}
          </th>
          <th scope="col" className="right">{`${words.columns.draft} ${draftUnit}`}</th>
          <th scope="col" className="right">
            {words.columns.reading}
          </th>
        </tr>
      </thead>
      <tbody ref={body}>
        {trials.map((trial) => {
          const [o2, co] = [figureOf(trial, 'o2'), figureOf(trial, 'co')];
          const airFree = o2 === undefined || co === undefined ? undefined : coAirFreePpm(co.mean, o2.mean);
          const why = stale?.get(trial.id);
          const number = numberOf(visit, trial.id);
          return (
            <tr
              key={trial.id}
              className={[trial.id === nowId ? 'now' : '', why === undefined ? '' : 'stale'].join(' ').trim()}
              tabIndex={trial.id === (nowId ?? trials[0]?.id) ? 0 : -1}
              aria-current={trial.id === nowId ? 'true' : undefined}
              title={why === undefined ? undefined : staleWords(why)}
              onKeyDown={(event) => onKeyDown(event, trial.id)}
              onClick={() => (choose === undefined || trial.id === nowId ? trialOpened(trial.id) : choose(trial.id))}
            >
              <td className="bold">
                {number}
                <span className="hidden-text">{words.open}</span>
              </td>
              {adjusters.map(({ name }) => {
                const position = positionOf(trial.setting, name);
                return (
                  <td key={name} className="number">
                    {position === undefined ? DASH : formatPosition(position)}
                  </td>
                );
              })}
              <td className="number right">{withHalf(trial, 'o2', units)}</td>
              {co2Of !== undefined && <td className="number right">{o2 === undefined ? DASH : formatNumber(co2Of.at(o2.mean), 1)}</td>}
              <td className="number right">{co === undefined ? DASH : formatValue('co', co.mean, units)}</td>
              {temperatures ? (
                <>
                  <td className="number right">{meanOf(trial, 'stackTemperature', units)}</td>
                  <td className="number right">{meanOf(trial, 'airTemperature', units)}</td>
                </>
              ) : (
                <td className="number right">{airFree === undefined ? DASH : formatNumber(airFree, 0)}</td>
              )}
              <td className="number right">{smokeText(trial)}</td>
              <td className="number right">{draftText(trial, units)}</td>
              <td className="right unwrapped">{why === undefined ? readingText(trial) : words.stale}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** CO2 as it follows from O2 and the fuel; technicians think in it. */
function co2By(visit: Visit): { max: string; at: (o2Percent: number) => number } | undefined {
  const fuel = fuelOfVisit(visit);
  if (fuel === undefined) return undefined;
  const { stoichiometry } = fuel;
  return { max: co2MaxText(fuel), at: (o2Percent) => co2FromO2Percent(stoichiometry, o2Percent) };
}

const meanOf = (trial: Trial, channel: 'stackTemperature' | 'airTemperature', units: UnitSystem): string => {
  const figure = figureOf(trial, channel);
  return figure === undefined ? DASH : formatValue(channel, figure.mean, units);
};

function withHalf(trial: Trial, channel: 'o2', units: UnitSystem) {
  const figure = figureOf(trial, channel);
  if (figure === undefined) return DASH;
  const { value, half } = formatWithHalf(channel, { value: figure.mean, half: 2 * Math.hypot(figure.random, figure.common) }, units);
  return (
    <>
      {value} <span className="plus-minus">{half}</span>
    </>
  );
}

export function smokeText(trial: Trial) {
  const smoke = smokeOf(trial);
  if (smoke !== undefined) return formatSmoke(Math.round(smoke * 10) / 10);
  return trial.smoke?.notTaken === true ? <span className="small second">–</span> : DASH;
}

const draftText = (trial: Trial, units: UnitSystem): string => {
  const pa = trial.draft?.overFirePa ?? trial.draft?.breechPa;
  return pa === undefined ? DASH : formatValue('draft', pa, units);
};

export const readingText = (trial: Trial): string =>
  trial.reading === undefined ? words.kinds.none : trial.reading.settled ? words.kinds[trial.reading.scope] : words.kinds.hand;

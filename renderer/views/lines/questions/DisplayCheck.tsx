/** Once for an instrument: its figures beside its display. They count when a person has said that they agree. */
import type { RunInfo } from '../../../../shared/ipc/run-info.ts';
import type { ChannelId } from '../../../../shared/measurement/channel.ts';
import { unitsFor } from '../../../../shared/measurement/sent-unit.ts';
import { display as words, placeWord } from '../../../../shared/words/lines/learning.ts';
import { takenWords, whyOpen, whyTaken } from '../../../../shared/words/lines/column-reasons.ts';
import { recipeWords } from '../../../../shared/words/lines/lines.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Key } from '../../../components/Key.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { useRest } from '../../../components/use-rest.ts';
import { useDigits, useKey } from '../../../keys/use-key.ts';
import { selectMayAct } from '../../../state/selectors.ts';
import './DisplayCheck.css';
import '../lines.css';

const inner: Partial<Record<ChannelId, string>> = { co: 'ppm', co2: '%', o2: '%', stackTemperature: 'C', airTemperature: 'C' };

/** The figure as the instrument writes it: in its own unit, with its own decimals. */
function shownFigure(display: NonNullable<RunInfo['display']>, channel: ChannelId): { text: string; unit: string } {
  const column = display.columns.find(({ taken }) => taken === channel);
  const value = display.values[channel];
  const unit = column?.unit ?? unitsFor(channel)[0] ?? 'none';
  const isOther = inner[channel] !== undefined && unit !== inner[channel];
  const digits = /[.,](\d+)/.exec(column?.examples.at(-1) ?? String(value ?? ''))?.[1]?.length ?? 0;
  const text = value === undefined ? '–' : value.toFixed(isOther ? 1 : Math.min(2, digits));
  const shownUnit = isOther ? (inner[channel] ?? unit) : unit;
  return { text, unit: recipeWords.units[shownUnit as keyof typeof recipeWords.units] ?? shownUnit };
}

export function DisplayCheck({ info, later }: { info: RunInfo & { display: NonNullable<RunInfo['display']> }; later: () => void }) {
  const { actions, store } = useParts();
  const panelOpened = useApp((state) => state.panelOpened);
  const mayAct = useApp(selectMayAct);
  const { display, runId } = info;
  const channels = display.columns.flatMap(({ taken }) => (taken === undefined || taken === 'time' ? [] : [taken]));
  const asked = (['o2', 'co', 'co2', 'stackTemperature', 'airTemperature'] as const).filter(
    (channel) => display.values[channel] !== undefined,
  );
  const main = asked.slice(0, 2);
  // it comes over whatever stood there: a press on its way was meant for that
  const isResting = useRest(words.agree, undefined, '');
  const compare = async (agrees: boolean): Promise<void> => {
    if (!mayAct || isResting) return;
    const next = await actions.ask('run.compareDisplay', { runId, agrees });
    if (next === undefined) return;
    store.getState().runChanged(next);
    if (!agrees) panelOpened('lines');
  };
  useKey('main', () => void compare(true), main.length > 0);
  useKey('back', later);
  useDigits((digit) => {
    if (digit === '1' && main.length > 0) void compare(true);
    if (digit === '2') void compare(false);
  });
  return (
    <div className="display-check" data-region="main" role="group" aria-label={words.once}>
      <div className="display-figures">
        <p>
          <b>{words.first}</b> <span className="second">{words.asSent}</span>
        </p>
        {channels.map((channel) => {
          const { text, unit } = shownFigure(display, channel);
          const column = display.columns.find(({ taken }) => taken === channel);
          const isSaid = column?.evidence.length === 0 || (column !== undefined && whyOpen(column) !== '');
          const why = column === undefined ? '' : isSaid ? words.youSaid : whyTaken(column);
          return (
            <div key={channel} className={`display-row${main.some((one) => one === channel) ? ' big' : ''}`}>
              <div className="display-name">
                <b>
                  <ChannelName text={takenWords[channel]} />
                </b>{' '}
                <span className="second">{unit}</span>
              </div>
              <div className="display-figure">{text}</div>
              <NotConfirmed />
              <div>
                <div className="display-word">{words.notConfirmed}</div>
                <div className="second">
                  {column === undefined ? '' : `${placeWord(column.at)}, `}
                  <ChannelName text={why} />
                </div>
              </div>
            </div>
          );
        })}
        <p className="display-line">
          <span className="second">{words.line}</span> <code>{display.line}</code>
        </p>
      </div>
      <div className="display-ask">
        <p className="second">{words.once}</p>
        <h1>
          <ChannelName
            text={
              main.length === 0
                ? words.waiting
                : words.title(
                    main.map((channel) => `${takenWords[channel].replace(/,.*| at .*/, '')} ${shownFigure(display, channel).text}`),
                  )
            }
          />
        </h1>
        <p className="second">{words.how}</p>
        <button type="button" className="button display-yes" disabled={!mayAct || main.length === 0} onClick={() => void compare(true)}>
          <span className="row gap-2">
            <VerdictSign verdict="pass" /> {words.yes(main.length)}
          </span>
          <kbd aria-hidden="true">1</kbd>
        </button>
        <button type="button" className="button display-no" disabled={!mayAct} onClick={() => void compare(false)}>
          <span className="row gap-2">
            <VerdictSign verdict="fail" /> {words.no}
          </span>
          <kbd aria-hidden="true">2</kbd>
        </button>
        <p>{words.until}</p>
        <p className="second">{words.ifNo}</p>
      </div>
      <div className="column-foot">
        <p className="grow">
          <b>{words.alert}</b>
          <br />
          <span className="second">{words.remembered}</span>
        </p>
        <button type="button" className="button" onClick={() => panelOpened('lines')}>
          {words.showLines} <Key action="lines" />
        </button>
        <button type="button" className="button" onClick={later}>
          {words.later} <Key action="back" />
        </button>
        <button
          type="button"
          className="button main"
          disabled={!mayAct || main.length === 0}
          aria-disabled={isResting}
          onClick={() => void compare(true)}
        >
          {words.agree} <Key action="main" />
        </button>
      </div>
    </div>
  );
}

/** A broken slot with a dashed bar: there is a value, and nobody has said yet that it is the right one. */
function NotConfirmed() {
  return (
    <svg width="140" height="56" viewBox="0 0 140 56" aria-hidden="true">
      <path className="stroke-third" strokeWidth="1.5" d="M0 28H48M92 28H140M10 22v12M26 22v12M42 22v12M98 22v12M114 22v12M130 22v12" />
      <path className="stroke-third" strokeWidth="7" strokeDasharray="14 6" d="M61 4H51V52H61M79 4H89V52H79" />
      <rect className="stroke-second" strokeWidth="2.5" strokeDasharray="4 3" fill="none" x="63" y="10" width="14" height="36" />
    </svg>
  );
}

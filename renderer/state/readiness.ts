/** Which reading can be taken now, whether it was, and the one sentence that says so. Pure. */
import { settlingChannels, type SettlingChannel } from '../../shared/measurement/channel.ts';
import { channelWords, excludedWords, reasonWords, unrestWords } from '../../shared/words/tune/states.ts';
import { live } from '../../shared/words/tune/live.ts';
import { isSilent, type ChannelRowState } from './channels.ts';
import type { Trial } from '../../shared/tuning/trial/trial.ts';
import type { Readiness, RunRecord } from './run-record.ts';
import { formatAbout } from '../../shared/format/duration.ts';
import { formatDifference, type UnitSystem } from '../../shared/format/quantity.ts';

/**
 * The trial that goes on. It may begin without a turn: a part was exchanged, the pump pressure was set, the screws were tightened.
 * What was taken before it began does not count for it.
 */
export type RunningTrial = Pick<Trial, 'fromMs' | 'reading'>;

const rank: Record<Readiness, number> = { none: 0, gas: 1, full: 2 };

/** The gas has reached the display, and the last minute shows it at rest. */
const REST_MS = 60_000;

export function readinessOf(record: RunRecord, trial?: RunningTrial): Readiness {
  const { face, info, marks, readings } = record;
  if (info.phase !== 'running') return 'none';
  if (info.source.kind === 'typed') {
    // the person judged the display: what was typed since the last turn and the last reading can be taken
    const typedMs = face.counters.lastGoodMs ?? -Infinity;
    const isNew =
      typedMs >= (trial?.fromMs ?? 0) &&
      marks.every(({ timeMs, body }) => body.kind !== 'adjustment' || timeMs <= typedMs) &&
      readings.every(({ toMs }) => toMs < typedMs);
    return typedMs > -Infinity && isNew ? 'full' : 'none';
  }
  if (face.openReading?.settled === true) return face.openReading.scope;
  return restAgain(record, trial);
}

/** One rest is offered once. A trial that began in the middle of it, or came back to it, has no reading of its own yet: it can be taken. */
function restAgain(record: RunRecord, trial: RunningTrial | undefined): Readiness {
  const { face } = record;
  if (trial === undefined || trial.reading?.settled === true || face.timeMs - trialBegan(record, trial) < REST_MS) return 'none';
  const states = settlingChannels.flatMap((channel) => face.states[channel]?.state ?? []);
  return face.states.o2 !== undefined && states.every((state) => state === 'settled') ? 'full' : 'none';
}

const trialBegan = ({ marks }: RunRecord, trial: RunningTrial | undefined): number =>
  Math.max(marks.findLast(({ body }) => body.kind === 'adjustment')?.timeMs ?? 0, trial?.fromMs ?? 0);

/**
 * What was ready when a person took the newest reading of this trial; undefined when nothing was taken, when more is ready by now, or when the
 * gas went on a slope since: the flame is no longer the one that was read, and what follows a reading would be asked of another one.
 */
export function takenNow(record: RunRecord, trial?: RunningTrial): Readiness | undefined {
  const began = trialBegan(record, trial);
  const pressed = record.taken.findLast(({ timeMs }) => timeMs >= began)?.ready;
  const ready = readinessOf(record, trial);
  if (ready === 'none' && gasUnrest(record).length > 0) return undefined;
  // the host keeps what was offered, pressed or not
  const kept = trial?.reading?.settled === true && trial.fromMs >= began && ready === 'none' ? trial.reading.scope : undefined;
  const taken = kept !== undefined && rank[kept] > rank[pressed ?? 'none'] ? kept : pressed;
  const isOutdone = record.info.source.kind === 'typed' ? ready !== 'none' : taken !== undefined && rank[ready] > rank[taken];
  return isOutdone ? undefined : taken;
}

/** Smoke typed since this trial began. */
export function smokeIsTyped(record: RunRecord, trial?: RunningTrial): boolean {
  const { marks } = record;
  const lastAdjusted = marks.findLastIndex(({ body }) => body.kind === 'adjustment');
  return marks.slice(lastAdjusted + 1).some(({ body, timeMs }) => body.kind === 'smoke' && timeMs >= (trial?.fromMs ?? 0));
}

export type Unrest = { readonly channel: SettlingChannel; readonly state: 'drifting' | 'surging'; readonly sinceMs: number };

/** What goes on a steady slope or to and fro: it does not come to a rest by waiting. */
export const unrestOf = ({ face, info }: RunRecord): readonly Unrest[] =>
  info.phase === 'running'
    ? settlingChannels.flatMap((channel): Unrest[] => {
        const { state, sinceMs = 0 } = face.states[channel] ?? {};
        return state === 'drifting' || state === 'surging' ? [{ channel, state, sinceMs }] : [];
      })
    : [];

const gasUnrest = (record: RunRecord): readonly Unrest[] => unrestOf(record).filter(({ channel }) => channel === 'o2' || channel === 'co');

/** The flame itself does not rest, and its draft was not measured since: that comes before any reading or smoke spot. */
export function asksForDraft(record: RunRecord, trial?: RunningTrial): boolean {
  const gas = gasUnrest(record);
  if (gas.length === 0 || readinessOf(record, trial) !== 'none') return false;
  const sinceMs = Math.min(...gas.map((one) => one.sinceMs));
  return !record.marks.some(({ body, timeMs }) => body.kind === 'draft' && timeMs >= sinceMs);
}

export type Headline = { strong: string; rest: string };

const say = (strong: string, rest = ''): Headline => ({ strong, rest });
const words = live.headline;

export function headlineOf(record: RunRecord, rows: readonly ChannelRowState[], units: UnitSystem, trial?: RunningTrial): Headline {
  const { info, excluded, face } = record;
  switch (info.phase) {
    case 'lost':
      return say('', words.blank);
    case 'learning':
      return info.question === undefined ? say(words.learning, words.learningNext) : say(words.learningAsk, words.learningAskNext);
    case 'connecting':
      return say(words.waiting);
    case 'paused':
      return say(words.paused);
    case 'ended':
      return say(words.ended, words.endedNext);
    case 'running':
      break;
  }
  if (isSilent(record)) return say('', words.blank);
  const openSpan = excluded.find(({ fromMs, toMs }) => fromMs <= face.timeMs && (toMs === undefined || toMs >= face.timeMs));
  if (openSpan !== undefined) return say(words.excluded(excludedWords[openSpan.reason] ?? openSpan.reason), words.excludedNext);

  const ready = readinessOf(record, trial);
  const moves = unrestWords.noReading(unrestOf(record).map(({ channel, state }) => [nameOf(channel), state]));
  if (asksForDraft(record, trial)) return say(unrestWords.measureDraft, moves);
  const taken = takenNow(record, trial);
  const slowest = slowestOf(rows);
  if (taken !== undefined) {
    const strong =
      info.source.kind === 'typed' ? live.announce.taken : { none: words.takenHand, gas: words.takenGas, full: words.takenFull }[taken];
    return say(
      strong,
      !smokeIsTyped(record, trial) ? words.nextSmoke : info.source.kind === 'typed' ? words.nextTurnTyped : words.nextTurn,
    );
  }
  if (ready === 'full' && info.source.kind === 'typed') return say(words.typedReady, words.fullReadyNext);
  if (ready === 'full') return say(words.fullReady, words.fullReadyNext);
  if (ready === 'gas') return say(words.gasReady, slowest === undefined ? '' : fullIn(slowest));
  if (rows.length === 0 || rows.every(({ value }) => value === undefined)) {
    return info.source.kind === 'typed' ? say(words.waiting, words.typedNext) : say(words.waiting);
  }
  const void_ = rows.find(({ state, detail }) => detail !== undefined && (state === 'absent' || state === 'suspect'));
  if (void_ !== undefined) return voidSentence(void_);
  const [unrest] = unrestOf(record);
  if (unrest !== undefined) return say(moves, unrestWords.usually[unrest.state]);
  return slowest === undefined ? say(words.waiting) : holdSentence(gasFirst(rows) ?? slowest, units);
}

/** Among the channels that are not settled, the one that takes longest; one without a forecast counts as longest of all. */
function slowestOf(rows: readonly ChannelRowState[]): ChannelRowState | undefined {
  const open = rows.filter(({ state }) => state === 'moving' || state === 'settling');
  const secondsOf = ({ detail }: ChannelRowState): number => detail?.secondsLeft?.value ?? Infinity;
  return open.reduce<ChannelRowState | undefined>(
    (worst, row) => (worst === undefined || secondsOf(row) > secondsOf(worst) ? row : worst),
    undefined,
  );
}

/** A trial needs O2 and CO first: as long as one of them moves, it is the one to wait for. */
const gasFirst = (rows: readonly ChannelRowState[]): ChannelRowState | undefined =>
  slowestOf(rows.filter(({ channel }) => channel === 'o2' || channel === 'co'));

const nameOf = (channel: SettlingChannel): string => channelWords[channel].name;

function fullIn({ channel, detail }: ChannelRowState): string {
  const seconds = detail?.secondsLeft?.value;
  return seconds === undefined ? words.gasFullUnknown(nameOf(channel)) : words.gasFullIn(formatAbout(seconds));
}

function holdSentence({ channel, detail }: ChannelRowState, units: UnitSystem): Headline {
  const heading = detail?.headingFor;
  if (detail?.value === undefined || heading === undefined) return say(words.holds(channelWords[channel].inText, words.noForecast));
  const toGo = words.toGo(formatDifference(channel, heading.value - detail.value, units));
  const seconds = detail.secondsLeft?.value;
  return say(words.holds(channelWords[channel].inText, toGo), seconds === undefined ? '' : words.holdsTime(formatAbout(seconds)));
}

function voidSentence({ channel, state, detail, value }: ChannelRowState): Headline {
  const why = detail?.reason === undefined ? '' : `${reasonWords(channel, detail.reason, (value ?? 0) > 0)}. `;
  const rest = why === '' ? '' : why.charAt(0).toUpperCase() + why.slice(1);
  return state === 'absent'
    ? say(words.absent(channelWords[channel].inText), rest + words.absentNext)
    : say(words.suspect(nameOf(channel)), rest + words.suspectNext);
}

/** Which reading can be taken now, whether it was, and the one sentence that says so. Pure. */
import type { SettlingChannel } from '../../shared/measurement/channel.ts';
import { channelWords, excludedWords, reasonWords, unrestWords } from '../../shared/words/states.ts';
import { live } from '../../shared/words/live.ts';
import { isSilent, type ChannelRowState } from './channels.ts';
import type { Readiness, RunRecord } from './run-record.ts';
import { formatAbout } from '../../shared/format/duration.ts';
import { formatDifference, type UnitSystem } from '../../shared/format/quantity.ts';

export function readinessOf({ face, info, marks, readings }: RunRecord): Readiness {
  if (info.phase !== 'running') return 'none';
  if (info.source.kind === 'typed') {
    // the person judged the display: what was typed since the last turn and the last reading can be taken
    const typedMs = face.counters.lastGoodMs ?? -Infinity;
    const isNew =
      marks.every(({ timeMs, body }) => body.kind !== 'adjustment' || timeMs <= typedMs) && readings.every(({ toMs }) => toMs < typedMs);
    return typedMs > -Infinity && isNew ? 'full' : 'none';
  }
  return face.openReading?.settled === true ? face.openReading.scope : 'none';
}

/** What was ready when a person took the newest reading of this setting; undefined when nothing was taken or more is ready by now. */
export function takenNow(record: RunRecord): Readiness | undefined {
  const lastAdjusted = record.marks.findLast(({ body }) => body.kind === 'adjustment')?.timeMs ?? 0;
  const taken = record.taken.findLast(({ timeMs }) => timeMs >= lastAdjusted)?.ready;
  const rank: Record<Readiness, number> = { none: 0, gas: 1, full: 2 };
  const ready = readinessOf(record);
  const isOutdone = record.info.source.kind === 'typed' ? ready !== 'none' : taken !== undefined && rank[ready] > rank[taken];
  return isOutdone ? undefined : taken;
}

/** Smoke typed since the last adjustment. */
export function smokeIsTyped({ marks }: RunRecord): boolean {
  const lastAdjusted = marks.findLastIndex(({ body }) => body.kind === 'adjustment');
  return marks.slice(lastAdjusted + 1).some(({ body }) => body.kind === 'smoke');
}

export type Headline = { strong: string; rest: string };

const say = (strong: string, rest = ''): Headline => ({ strong, rest });
const words = live.headline;

export function headlineOf(record: RunRecord, rows: readonly ChannelRowState[], units: UnitSystem): Headline {
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

  const ready = readinessOf(record);
  const taken = takenNow(record);
  const slowest = slowestOf(rows);
  if (taken !== undefined) {
    const strong =
      info.source.kind === 'typed' ? live.announce.taken : { none: words.takenHand, gas: words.takenGas, full: words.takenFull }[taken];
    return say(strong, !smokeIsTyped(record) ? words.nextSmoke : info.source.kind === 'typed' ? words.nextTurnTyped : words.nextTurn);
  }
  if (ready === 'full' && info.source.kind === 'typed') return say(words.typedReady, words.fullReadyNext);
  if (ready === 'full') return say(words.fullReady, words.fullReadyNext);
  if (ready === 'gas') return say(words.gasReady, slowest === undefined ? '' : fullIn(slowest));
  if (rows.length === 0 || rows.every(({ value }) => value === undefined)) {
    return info.source.kind === 'typed' ? say(words.waiting, words.typedNext) : say(words.waiting);
  }
  const void_ = rows.find(({ state, detail }) => detail !== undefined && (state === 'absent' || state === 'suspect'));
  if (void_ !== undefined) return voidSentence(void_);
  const unrest = rows.find(({ state }) => state === 'drifting' || state === 'surging');
  if (unrest !== undefined) {
    const name = nameOf(unrest.channel);
    return unrest.state === 'drifting'
      ? say(unrestWords.drifts(name), unrestWords.usually.drifting)
      : say(unrestWords.surges(name), unrestWords.usually.surging);
  }
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

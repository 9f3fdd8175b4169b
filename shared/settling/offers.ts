import type { SettlingChannel } from '../measurement/channel.ts';
import type { Reading } from '../measurement/state.ts';
import { bandAt, toleranceAt, type Bands, type Tolerances } from '../measurement/limits.ts';
import type { createBlockHistory } from './watch/block-history.ts';
import type { Verdict } from './verdict.ts';

type History = ReturnType<typeof createBlockHistory>;

export type OfferInput = {
  readonly channel: SettlingChannel;
  readonly history: History;
  /** mean of the last 10 s */
  readonly mean: number;
  readonly heading: number;
  readonly band: number;
  /** how far the channel is from being read: 1 and more where it alone holds the reading back */
  readonly doubt: number;
  /** true when the heading is, almost surely, further than a band from `kept` */
  readonly surelyLeft: (kept: number) => boolean;
  /** true when a mean that was offered has turned out to lie, most probably, too far from the heading */
  readonly provedWrong: (offered: number) => boolean;
  /** false while the channel is absent, suspect or just beginning: nothing may be taken from it */
  readonly usable: boolean;
  readonly pressure: number;
  readonly waiting: boolean;
  readonly lastAlarmMs: number;
};

/** For so many blocks in a row: one low doubt among higher ones is luck, and what has just begun to move shows in the next. */
const HOLD_BLOCKS = 3;
const MOST_MS = 60_000;
const REVISE_MS = 5000;
const PRESSURE_LIMIT = 0.35;
const LATCH_MS = 10_000;
/** The same after a change that a channel showed: two blocks, which no single spike lasts. */
const BROKEN_LATCH_MS = 4000;
/** Nothing settles sooner after a turn: a reading taken later belongs to the new setting. */
const MARK_SETTLES_MS = 15_000;

type Track = {
  readonly scope: Reading['scope'];
  open: Reading | undefined;
  revisedMs: number;
  /** headings kept at the last reading */
  kept: Partial<Record<SettlingChannel, number>> | undefined;
  /** means as first offered */
  offered: Reading['first'];
  /** the heading has left the kept one for good: the next settled stretch is a new one */
  armed: boolean;
  leftSinceMs: number | undefined;
  /** the reading before was ended by a change that a channel showed, and which then left what was read, if only for seconds */
  broken: 'off' | 'left' | undefined;
  /** blocks in a row for which a reading could have been offered */
  good: number;
};

type OfferOptions = { bands: Bands; tolerances: Tolerances; typedAirC: number | undefined };

/** Decides when a reading is offered, keeps it up to date, and ends it. */
export function createOffers({ bands, tolerances, typedAirC: typedAtStartC }: OfferOptions) {
  /** Standard uncertainty of the sensor: its tolerance taken as rectangular. @source JCGM 100:2008, 4.3.7 */
  const sensorU = (channel: SettlingChannel, value: number): number => (toleranceAt(tolerances, channel, value) ?? 0) / Math.sqrt(3);
  let typedAirC = typedAtStartC;
  let nextId = 1;
  const tracks: Track[] = (['gas', 'full'] as const).map((scope) => ({
    scope,
    open: undefined,
    revisedMs: 0,
    kept: undefined,
    offered: undefined,
    armed: true,
    leftSinceMs: undefined,
    broken: undefined,
    good: 0,
  }));

  /** A change of some seconds is one too: what comes to rest after it is another rest, be it where it was. */
  const isArmed = ({ armed, broken }: Track): boolean => armed || broken === 'left';

  /** per channel: blocks in a row in which it could have been read */
  const readyBlocks = new Map<SettlingChannel, number>();

  const belongs = (scope: Reading['scope'], channel: SettlingChannel): boolean => scope === 'full' || channel === 'o2' || channel === 'co';

  function make(
    scope: Reading['scope'],
    id: string,
    fromMs: number,
    toMs: number,
    takenMs: number,
    parts: readonly { channel: SettlingChannel; history: History }[],
    settled: boolean,
    final: boolean,
  ): Reading {
    const channels: Reading['channels'] = {};
    for (const part of parts) {
      if (!belongs(scope, part.channel)) continue;
      const mean = part.history.meanSince(fromMs) ?? 0;
      const statistics = part.history.statistics(fromMs, toMs, sensorU(part.channel, mean));
      if (statistics) channels[part.channel] = statistics;
    }
    if (scope === 'full' && typedAirC !== undefined && !channels.airTemperature) {
      channels.airTemperature = { mean: typedAirC, sd: 0, n: 1, nEff: 1, u: sensorU('airTemperature', typedAirC), typed: true };
    }
    return { id, scope, settled, fromMs, toMs, takenMs, final, channels };
  }

  function finish(track: Track): Reading[] {
    if (!track.open) return [];
    const final = { ...track.open, final: true };
    track.open = undefined;
    return [final];
  }

  function block(nowMs: number, all: readonly OfferInput[]): Reading[] {
    const out: Reading[] = [];
    for (const track of tracks) {
      const inputs = all.filter((input) => belongs(track.scope, input.channel));
      if (inputs.length === 0) continue;
      const calm = inputs.every((input) => input.pressure < PRESSURE_LIMIT);
      const left =
        track.kept !== undefined &&
        inputs.some(
          ({ channel, surelyLeft, provedWrong }) =>
            (track.kept![channel] !== undefined && surelyLeft(track.kept![channel])) ||
            (track.offered?.[channel] !== undefined && provedWrong(track.offered[channel])),
        );
      if (left) track.leftSinceMs ??= nowMs;
      else track.leftSinceMs = undefined;
      if (track.leftSinceMs !== undefined && nowMs - track.leftSinceMs >= LATCH_MS) track.armed = true;
      if (track.broken === 'off' && track.leftSinceMs !== undefined && nowMs - track.leftSinceMs >= BROKEN_LATCH_MS) track.broken = 'left';
      if (track.open) {
        const alarmed = inputs.some((input) => input.lastAlarmMs > track.open!.takenMs && nowMs - input.lastAlarmMs < 1);
        const unusable = inputs.some((input) => !input.usable);
        if (alarmed || left || unusable) {
          out.push(...finish(track));
          track.broken = alarmed ? 'off' : undefined;
        } else if (calm && nowMs - track.revisedMs >= REVISE_MS) {
          const fromMs = Math.max(track.open.fromMs, nowMs - MOST_MS);
          const first = track.open.first;
          track.open = {
            ...make(track.scope, track.open.id, fromMs, nowMs, track.open.takenMs, inputs, true, false),
            ...(first && { first }),
          };
          track.revisedMs = nowMs;
          out.push(track.open);
        }
        continue;
      }
      // fresh air that was let in, or a probe that was out, is no change of the burner
      if (inputs.some((input) => !input.usable)) track.broken = undefined;
      const doubt = inputs.reduce((sum, input) => sum + input.doubt, 0);
      const waiting = inputs.some((input) => input.waiting);
      track.good = calm && !waiting && doubt < 1 ? track.good + 1 : 0;
      if (track.good < HOLD_BLOCKS) continue;
      const differs =
        track.kept === undefined ||
        inputs.some(
          (input) => Math.abs(input.mean - (track.kept![input.channel] ?? input.mean)) > 1.5 * bandAt(bands, input.channel, input.mean),
        );
      if (!isArmed(track) && !differs) continue;
      const fromMs = inputs[0]!.history.since(nowMs - 10_001) ?? nowMs;
      const reading = make(track.scope, `r${nextId++}`, fromMs, nowMs, nowMs, inputs, true, false);
      const first: Reading['first'] = {};
      for (const [channel, statistics] of Object.entries(reading.channels)) first[channel as SettlingChannel] = statistics.mean;
      track.open = { ...reading, first };
      track.offered = first;
      track.good = 0;
      track.revisedMs = nowMs;
      track.kept = Object.fromEntries(inputs.map((input) => [input.channel, input.heading]));
      track.armed = false;
      track.broken = undefined;
      track.leftSinceMs = undefined;
      out.push(track.open);
    }
    return out;
  }

  /**
   * What is offered and what is shown must agree: a channel counts as settled when its part of a reading stands, or would stand but for
   * the others. As long as no full reading may be offered, at least one channel says that it is not there yet.
   */
  function verdicts(inputs: readonly OfferInput[]): Map<SettlingChannel, Verdict> {
    const result = new Map<SettlingChannel, Verdict>();
    const stands = (channel: SettlingChannel): boolean => tracks.some((track) => track.open && belongs(track.scope, channel));
    for (const input of inputs) {
      const isReady = input.usable && !input.waiting && input.pressure < PRESSURE_LIMIT && input.doubt < 1;
      const blocks = isReady ? (readyBlocks.get(input.channel) ?? 0) + 1 : 0;
      readyBlocks.set(input.channel, blocks);
      const ready = blocks >= HOLD_BLOCKS;
      result.set(input.channel, ready || stands(input.channel) ? 'settled' : input.waiting ? 'not-yet' : 'stay');
    }
    const full = tracks[1]!;
    if (full.open || !isArmed(full)) return result;
    const worst = inputs.filter((input) => !stands(input.channel)).sort((a, b) => b.doubt - a.doubt)[0];
    if (worst) result.set(worst.channel, 'not-yet');
    return result;
  }

  return {
    block,
    verdicts,
    /** What is open is revised with it, what is final keeps what it had. */
    typeAir(airC: number | undefined): void {
      typedAirC = airC;
    },
    /** A marked turn: what is open ends, unless it was taken from the stretch after the turn; the next settled stretch is a new one. */
    marked(timeMs: number): Reading[] {
      return tracks.flatMap((track) => {
        if (track.open && track.open.takenMs > timeMs + MARK_SETTLES_MS) return [];
        track.armed = true;
        return finish(track);
      });
    },
    end: (_timeMs: number): Reading[] => tracks.flatMap(finish),
    open: (): Reading | undefined => tracks[1]!.open ?? tracks[0]!.open,
    byHand(timeMs: number, parts: readonly { channel: SettlingChannel; history: History; settled: boolean }[]): Reading | undefined {
      const usable = parts.filter((part) => part.history.meanSince(timeMs - 10_001) !== undefined);
      if (usable.length === 0) return undefined;
      const full = usable.some((part) => !belongs('gas', part.channel));
      const reading = make(
        full ? 'full' : 'gas',
        `r${nextId++}`,
        timeMs - 10_001,
        timeMs,
        timeMs,
        usable,
        parts.every((part) => part.settled),
        true,
      );
      const first: Reading['first'] = {};
      for (const [channel, statistics] of Object.entries(reading.channels)) first[channel as SettlingChannel] = statistics.mean;
      return { ...reading, first };
    },
  };
}

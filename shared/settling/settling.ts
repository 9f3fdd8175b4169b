import { settlingChannels, type SettlingChannel } from '../measurement/channel.ts';
import { bandAt, defaultBands, defaultTolerances, type Bands } from '../measurement/limits.ts';
import type { ChannelState, Reading } from '../measurement/state.ts';
import { blockedBy, gasOnly } from './blocked-by.ts';
import { createFieldCriterion, createLabCriterion } from './criteria.ts';
import { createDeadTimes } from './dead-time.ts';
import type { Settling, SettlingOptions, SettlingUpdate } from './detector.ts';
import { looksDiluted, type GasLevel } from './dilution.ts';
import { dials } from './dials.ts';
import { createFreshAir } from './fresh-air.ts';
import { judge } from './judge.ts';
import { knowledgeOf } from './knowledge-of.ts';
import { createOffers, type OfferInput } from './offers.ts';
import { createWatched, type Watched } from './watch/watched.ts';

const BLOCK_MS = 2000;
const GAP_MS = 30_000;
const LOOK_BACK_MS = 10_000;
/** Long enough for a sampling line's dead time: after a change in one channel the others may still be about to move. */
const DEAD_TIME_MS = 12_000;
/** A marked turn that shows nowhere within so long has changed nothing. */
const UNCONFIRMED_MS = 20_000;
/** How long before the first sign of a move its mark may lie. */
const MARK_BEFORE_S = 25;

/** Probability that an offered mean was wrong beyond which the stretch is read anew. */
const PROVED_WRONG = 0.7;
/** Probability that the heading has left what was kept at a reading. */
const SURELY_LEFT = 0.95;
const TURNS_KEPT = 12;
/** The gases follow a turn within so long: dead time and cell. */
const SAME_TURN_S = 40;

const MOST_DOUBT = 20;

/**
 * The settling detector: samples in, states and readings out. It judges from the samples so far only, holds a bounded amount of
 * memory, and gives the same answers for the same samples and marks.
 */
export function createSettling(options: SettlingOptions = {}): Settling {
  const bands: Bands = { ...defaultBands, ...options.bands };
  let typedAirC = options.typedAirC;
  const offers = createOffers({ bands, tolerances: { ...defaultTolerances, ...options.tolerances }, typedAirC });
  const criterion = options.mode === 'lab' ? createLabCriterion() : options.mode === 'field' ? createFieldCriterion() : undefined;
  const air = createFreshAir();
  const deadTimes = createDeadTimes(options.known?.channels);
  const watched = settlingChannels.map((channel) => createWatched(channel, bands, options.known?.channels[channel]));
  const [o2, co, stack, airTemperature] = watched as [Watched, Watched, Watched, Watched];
  /** the stack first: it has no hose before it, and says whether the burner was turned */
  const inFeedingOrder = [stack, o2, co, airTemperature];
  let nowMs = 0;
  let blockStartMs: number | undefined;
  let lastSampleMs: number | undefined;
  let periodMs = 1000;
  let silentSinceMs: number | undefined;
  /** a marked turn that has not shown yet */
  let pendingMarkMs: number | undefined;
  let lastMarkMs = -Infinity;
  const turnedAtS: number[] = [];
  let calmGas: GasLevel | undefined;
  let diluted = false;

  const typedAir = (w: Watched): boolean => w.channel === 'airTemperature' && typedAirC !== undefined && !w.seen;
  const wanted = (w: Watched): boolean =>
    !typedAir(w) && w.absent !== 'not-fitted' && (options.expected ? options.expected.includes(w.channel) : w.seen);

  function stateOf(w: Watched, detailed: boolean): ChannelState {
    if (typedAir(w)) {
      return {
        channel: w.channel,
        state: 'settled',
        sinceMs: 0,
        timeMs: nowMs,
        band: bands.airK,
        value: typedAirC!,
        reason: 'typed',
      };
    }
    return judge(w, {
      bands,
      nowMs,
      detailed,
      swingOf,
      verdict: criterion && w === stack ? (criterion.met() ? 'settled' : 'not-yet') : w.verdict,
    });
  }

  function inDetail(w: Watched): ChannelState {
    if (!w.detailed) w.state = stateOf(w, true);
    w.detailed = true;
    // the state is judged once in a block, the value is that of the newest lines
    if (w.state.value === undefined || w.state.reason === 'typed') return w.state;
    // the instrument itself says that there is none: no figure stands on until the block is closed
    if (w.absent !== undefined && w.absent !== 'impossible') {
      return { channel: w.channel, state: 'absent', sinceMs: nowMs, timeMs: nowMs, band: w.state.band, reason: w.absent };
    }
    return { ...w.state, value: w.measured() ?? w.state.value };
  }

  function exclude(): void {
    const o2Bank = o2.tracker.bank.summary();
    const running = o2.tracker.running();
    const airNow = air.block(o2.block()?.mean, stack.block()?.mean, running ? o2Bank.heading : 0, o2Bank.headingSd);
    for (const w of watched) {
      w.excluded = undefined;
      if (airNow !== 'none' && (gasOnly(w.channel) || (airNow === 'probe-out' && w === stack))) w.excluded = airNow;
      else if (w.stuck()) w.excluded = 'stuck';
      else if (diluted && gasOnly(w.channel)) w.excluded = 'dilution';
    }
  }

  /** Feeds the closed block to the trackers. @returns when a change began, s, if any channel raised an alarm */
  function feed(startMs: number): number | undefined {
    let changedAt: number | undefined;
    for (const w of inFeedingOrder) {
      const block = w.block();
      w.clear();
      if (w.blocked || w.excluded === 'fresh-air' || w.excluded === 'probe-out' || w.excluded === 'stuck') {
        w.tracker.pause(nowMs / 1000);
        w.history.reset();
        w.restless.interrupt(nowMs / 1000, w.excluded === 'fresh-air' || w.excluded === 'probe-out');
        if (block) w.shown = block.mean;
        continue;
      }
      if (!block) continue;
      w.shown = block.mean;
      w.restless.add(block.timeMs / 1000, block.mean, bandAt(bands, w.channel, block.mean), w.tracker.running() ? w.tracker.noiseSd() : 0);
      w.history.add(startMs, nowMs, block.mean, block.squares, block.count);
      if (w === stack) criterion?.add(block.timeMs / 1000, block.mean);
      const turned = gasOnly(w.channel) && wasTurned();
      const at = w.tracker.push(block.timeMs / 1000, block.mean, w.quantum(), block.count, block.flat, turned);
      if (at === undefined) continue;
      w.lastAlarmMs = nowMs;
      if (w.channel === 'airTemperature') continue;
      if (w === stack || w === o2) criterion?.disturbed(at);
      if (w === stack) noteTurn(at);
      if (deadTimes.moved(w.channel, at) !== undefined) pendingMarkMs = undefined;
      if (gasOnly(w.channel)) diluted = false;
      changedAt = Math.min(changedAt ?? Infinity, at);
    }
    return changedAt;
  }

  /** When the burner was turned: a mark says so, or the stack temperature, which follows nothing else so quickly. */
  function noteTurn(atS: number): void {
    turnedAtS.push(atS);
    if (turnedAtS.length > TURNS_KEPT) turnedAtS.shift();
  }

  /** A change of the gases that the stack answers, or that a mark predicts, is a turn of the burner. */
  const wasTurned = (): boolean => (turnedAtS.at(-1) ?? -Infinity) > nowMs / 1000 - SAME_TURN_S;

  const swingOf = (w: Watched, band: number) => w.restless.surge(nowMs / 1000, band, w === stack ? undefined : turnedAtS);

  /** The stack creeps on for minutes after every turn, in one direction: only to and fro says something of it. */
  function isRestless(w: Watched): boolean {
    const band = bandAt(bands, w.channel, w.shown ?? 0);
    return (w !== stack && w.restless.isRestless(nowMs / 1000, turnedAtS)) || swingOf(w, band) !== undefined;
  }

  function offerInput(w: Watched, newestAlarmMs: number): OfferInput {
    const { bank } = w.tracker;
    const usable = w.tracker.running() && w.absent === undefined && !w.excluded && !w.blocked;
    const mean = w.history.meanSince(nowMs - LOOK_BACK_MS - 1);
    const fromMs = w.history.since(nowMs - LOOK_BACK_MS - 1) ?? nowMs;
    const band = bandAt(bands, w.channel, mean ?? 0);
    const ready = usable && mean !== undefined && nowMs - fromMs >= LOOK_BACK_MS - 1.25 * BLOCK_MS;
    const dial = dials[w.channel];
    let ownDoubt = ready ? bank.probabilityOutside(mean, 1.25 * band) / dial.wrong : MOST_DOUBT;
    if (ready && dial.outside !== undefined && ownDoubt < 1)
      ownDoubt = Math.max(ownDoubt, bank.probabilityOutside(mean, band) / dial.outside);
    const deadMs = deadTimes.of(w.channel) === undefined ? DEAD_TIME_MS : Math.min(DEAD_TIME_MS, 1000 * deadTimes.of(w.channel)! + 6000);
    const marked = pendingMarkMs !== undefined && nowMs - pendingMarkMs < UNCONFIRMED_MS;
    return {
      channel: w.channel,
      history: w.history,
      mean: mean ?? 0,
      heading: bank.summary().heading,
      band,
      doubt: criterion && w === stack && ready ? (criterion.met() ? 0 : MOST_DOUBT) : ownDoubt,
      surelyLeft: (kept) => usable && bank.isOutside(kept, band, SURELY_LEFT),
      provedWrong: (offered) => usable && bank.isOutside(offered, 1.25 * band, PROVED_WRONG),
      usable,
      pressure: w.tracker.pressure(),
      waiting:
        w.channel !== 'airTemperature' && (marked || isRestless(w) || (newestAlarmMs > w.lastAlarmMs && nowMs - newestAlarmMs < deadMs)),
      lastAlarmMs: w.lastAlarmMs,
    };
  }

  /** Compares the gases with their last calm level: air let in before the probe is no change of the burner. */
  function watchDilution(inputs: readonly OfferInput[]): void {
    const doubt = (channel: SettlingChannel): number => inputs.find((i) => i.channel === channel)?.doubt ?? MOST_DOUBT;
    if (doubt('o2') + doubt('co') > 2) return;
    const level: GasLevel = {
      o2Percent: o2.shown ?? 0,
      coPpm: co.shown ?? 0,
      stackC: stack.tracker.running() ? stack.tracker.bank.summary().now : undefined,
    };
    if (calmGas && nowMs - lastMarkMs > 120_000 && looksDiluted(calmGas, level)) diluted = true;
    else if (!diluted) calmGas = level;
  }

  function closeBlock(): SettlingUpdate {
    const startMs = blockStartMs!;
    blockStartMs = undefined;
    exclude();
    const changedAt = feed(startMs);
    if (changedAt !== undefined) {
      for (const w of watched) if (w.lastAlarmMs !== nowMs && wanted(w)) w.tracker.mayChange(changedAt, false, wasTurned());
    }
    const newestAlarmMs = Math.max(o2.lastAlarmMs, co.lastAlarmMs, stack.lastAlarmMs);
    const inputs = watched.filter(wanted).map((w) => offerInput(w, newestAlarmMs));
    watchDilution(inputs);
    const readings = offers.block(nowMs, inputs);
    const verdicts = offers.verdicts(inputs);
    const changed: ChannelState[] = [];
    for (const w of watched) {
      w.verdict = verdicts.get(w.channel) ?? 'stay';
      const next = stateOf(w, false);
      const differs = next.state !== w.state.state || next.reason !== w.state.reason;
      w.state = differs ? stateOf(w, true) : next;
      w.detailed = differs;
      if (differs) changed.push(w.state);
    }
    return { changed, readings };
  }

  function reset(timeMs: number): Reading[] {
    const ended = offers.end(timeMs);
    for (const w of watched) w.reset();
    air.reset();
    criterion?.reset();
    calmGas = undefined;
    diluted = false;
    pendingMarkMs = undefined;
    blockStartMs = undefined;
    return ended;
  }

  const merge = (first: SettlingUpdate, second: SettlingUpdate): SettlingUpdate => ({
    changed: [...first.changed, ...second.changed],
    readings: [...first.readings, ...second.readings],
  });
  const nothing: SettlingUpdate = { changed: [], readings: [] };

  return {
    push(sample) {
      let update = nothing;
      silentSinceMs = undefined;
      if (lastSampleMs !== undefined) {
        const dt = sample.timeMs - lastSampleMs;
        if (dt > GAP_MS) update = { changed: [], readings: reset(lastSampleMs) };
        else if (dt >= 0) periodMs += (Math.min(dt, 5000) - periodMs) * 0.05;
        if (blockStartMs !== undefined && sample.timeMs - blockStartMs >= BLOCK_MS) update = merge(update, closeBlock());
      }
      lastSampleMs = sample.timeMs;
      nowMs = Math.max(nowMs, sample.timeMs);
      blockStartMs ??= nowMs;
      for (const w of watched) {
        w.blocked = blockedBy(sample.state, w.channel);
        if (sample.values[w.channel] !== undefined) w.seen = true;
        if (!w.blocked) w.take(nowMs, sample);
      }
      return update;
    },
    mark(mark) {
      if (mark.body.kind !== 'adjustment') return nothing;
      const timeS = mark.timeMs / 1000;
      lastMarkMs = mark.timeMs;
      noteTurn(timeS);
      diluted = false;
      deadTimes.mark(timeS);
      criterion?.disturbed(timeS);
      const shownAlready = watched.some(
        (w) => w.channel !== 'airTemperature' && w.tracker.changedSince(timeS - 4) && !w.tracker.changedSince(timeS + MARK_BEFORE_S),
      );
      if (!shownAlready) {
        pendingMarkMs = mark.timeMs;
        for (const w of watched) if (w.channel !== 'airTemperature') w.tracker.mayChange(timeS, true, true);
      }
      return { changed: [], readings: offers.marked(mark.timeMs) };
    },
    typeAir(airC) {
      typedAirC = airC;
      offers.typeAir(airC);
    },
    gap: (timeMs) => ({ changed: [], readings: reset(timeMs) }),
    tick(timeMs) {
      const late = lastSampleMs !== undefined && timeMs - lastSampleMs > Math.max(3 * periodMs, 2000);
      if (!late || silentSinceMs !== undefined) return nothing;
      silentSinceMs = timeMs;
      return { changed: watched.filter(wanted).map(silentState), readings: [] };
    },
    states: () =>
      watched
        .filter((w) => wanted(w) || typedAir(w))
        .map((w) => (silentSinceMs !== undefined && !typedAir(w) ? silentState(w) : inDetail(w))),
    openReading: () => offers.open(),
    deadTimeS: (channel) => deadTimes.of(channel),
    knowledge: () => knowledgeOf(watched, options.known),
    takeByHand: (timeMs) =>
      offers.byHand(
        timeMs,
        watched.filter(wanted).map((w) => ({ channel: w.channel, history: w.history, settled: w.state.state === 'settled' })),
      ),
  };

  function silentState(w: Watched): ChannelState {
    return { channel: w.channel, state: 'silent', sinceMs: silentSinceMs!, timeMs: silentSinceMs!, band: w.state.band, reason: 'no-lines' };
  }
}

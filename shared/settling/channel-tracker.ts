import type { SettlingChannel } from '../measurement/channel.ts';
import { createBank, type Bank } from './bank/bank.ts';
import { createScout, type Scout } from './bank/bank-scout.ts';
import { createChangeAlarm } from './change-alarm.ts';
import { grids } from './bank/grids.ts';
import type { KnownChannel } from '../measurement/knowledge.ts';
import { priors, type Prior } from './priors.ts';
import { createNoise } from './fits/noise.ts';
import { createStill } from './watch/still.ts';

const KEPT = 16;
/** A turn is looked for from so many blocks before the first that pointed away; its date is tried in such steps (s). */
const TURN_LOOK_BACK = 3;
const TURN_STEP_S = 1;
/** Blocks after the alarm at which the date is tried again: what has come since says more; within so many s, in such steps. */
const TURN_AGAIN = [3, 6, 10];
const TURN_WITHIN_S = 2.5;
const TURN_FINE_STEP_S = 0.5;
/** s after a dated turn of the stack within which the gases only say the same: their way through the hose is longer. */
const SAME_TURN_S = 15;
const STANDING_MOST = 40;
const STANDING_WEIGHT = 0.7;
const SURPRISE_CLIP = 6;
const SURPRISE_GAIN = 0.03;
const SURPRISE_LEAST = 0.5;
const REST_PROBABILITY = 0.5;
const OWN_PROBABILITY = 0.8;
const ECHO_PROBABILITY = 0.5;
const MARK_PROBABILITY = 0.85;
const AFTER_PAUSE_PROBABILITY = 0.2;
/** s without alarm after which the state counts as calm */
const CALM_SECONDS = 40;
const OUT_OF_AIR_PERCENT = 12;
/** s without a value after which the sensor may be anywhere */
const LONG_PAUSE_SECONDS = 25;

/** A change of the metal's channel: the block after which it is looked for, its date, and the block that raised the alarm. */
type Turn = { readonly base: number; readonly dateS: number; readonly sd: number; readonly raised: number };

/** The channel's constants hold for the default band: where the band is wider, what counts as still is wider in the same measure. */
const evenly = (): number => 1;

/**
 * Follows one channel block by block: its bank, its noise, its change alarm with back-dating.
 *
 * @param scaleAt how much wider the band is around a value than the one that the constants are for
 */
export function createTracker(channel: SettlingChannel, known?: KnownChannel, scaleAt: (value: number) => number = evenly) {
  const prior = priors[channel];
  const bank = createBank(grids[channel], known);
  const scout = bank.metal ? createScout(bank, grids[channel]) : undefined;
  const noise = createNoise(prior.noise, 40);
  const still = createStill(bank.metal);
  const alarm = createChangeAlarm({ drift: 0.75, limit: 6, clip: 4 });
  /** the last blocks, for back-dating */
  const times = new Float64Array(KEPT);
  const values = new Float64Array(KEPT);
  const variances = new Float64Array(KEPT);
  let index = -1;
  let first = 0;
  let running = false;
  let paused = false;
  let turns = 0;
  let lastAlarm = -Infinity;
  let lastChange = -Infinity;
  let asideTime = 0;
  /** the last turn, as long as its date may still become better known */
  let turn: Turn | undefined;
  /** mean square of the standardised innovations; 1 when the model is right */
  let surprise = 1;
  /** blocks for which the value has been standing on one step */
  let standing = 0;
  /** the burner was turned about now: a change is a step */
  let isTurn = false;
  let scale = 1;

  function blockVariance(): number {
    const sd = noise.sd();
    const least = scale * prior.least;
    return Math.max(sd * sd, least * least);
  }

  /** On the way to another level the narrower band holds, be it that of where it is or that of where it goes. */
  function scaleFor(value: number): void {
    scale = Math.min(scaleAt(value), running ? scaleAt(Math.max(0, bank.summary().heading)) : Infinity);
    bank.scaleTo(scale);
  }

  const wider = ({ headingSd, slowSd }: Prior['rest']): Prior['rest'] => ({ headingSd: scale * headingSd, slowSd: scale * slowSd });

  function begin(timeS: number, value: number): void {
    // an O2 value near that of air says where it comes from, not where it is going
    const outOfAir = prior.burning !== undefined && value > OUT_OF_AIR_PERCENT;
    bank.start(
      value,
      outOfAir ? prior.burning : value,
      wider(prior.rest),
      wider(prior.moving),
      outOfAir ? 0.02 : REST_PROBABILITY,
      blockVariance(),
    );
    alarm.reset();
    still.reset();
    index++;
    first = index;
    running = true;
    remember(timeS, value, blockVariance());
  }

  /** Puts a change before block `from` (bounded by what is kept) and goes through the blocks since again. */
  function rewind(from: number, sd: number, probability: number, own: boolean): void {
    const start = Math.max(from - 1, first, index - KEPT + 1);
    bank.restore(start);
    bank.widen(sd, probability, own, isTurn);
    bank.keep(start);
    for (let i = start + 1; i <= index; i++) {
      bank.step(times[i % KEPT]! - times[(i - 1) % KEPT]!, values[i % KEPT]!, variances[i % KEPT]!);
      bank.keep(i);
    }
  }

  /** The blocks since `turn.base` once more, with the change at `dateS`. @returns log likelihood of these blocks */
  function goFrom({ base, sd }: Turn, dateS: number, on: Pick<Bank, 'predict' | 'widen' | 'step'>): number {
    let logLikelihood = 0;
    let turned = false;
    for (let i = base + 1; i <= index; i++) {
      const fromS = times[(i - 1) % KEPT]!;
      const toS = times[i % KEPT]!;
      let dt = toS - fromS;
      if (!turned && dateS < toS) {
        turned = true;
        const early = dateS - fromS;
        if (early > 0.05) on.predict(early);
        on.widen(sd, OWN_PROBABILITY, true, isTurn);
        dt = Math.max(0.05, dt - Math.max(early, 0));
      }
      logLikelihood += on.step(dt, values[i % KEPT]!, variances[i % KEPT]!).logLikelihood;
      if (on === bank) bank.keep(i);
    }
    return logLikelihood;
  }

  /**
   * Where the turn is most likely. A change at the edge of a block lies 1-5 s too early; the bank then takes the delay for a slow
   * thermocouple, and part of the quick answer for the metal's.
   */
  function likeliestDate(on: Scout, of: Turn, lowS: number, highS: number, stepS: number): number {
    let best = -Infinity;
    let { dateS } = of;
    const latest = Math.min(highS, times[index % KEPT]! - 0.5);
    for (let tried = Math.max(lowS, times[of.base % KEPT]!); tried <= latest; tried += stepS) {
      on.again();
      const likelihood = goFrom(of, tried, on);
      if (likelihood <= best) continue;
      best = likelihood;
      dateS = tried;
    }
    return dateS;
  }

  /** A change of the metal's channel: dates it and puts it there. */
  function beginTurn(on: Scout, raised: Turn): Turn {
    bank.keepBeforeTurn(raised.base);
    bank.takeBeforeTurn();
    on.begin();
    const begun = { ...raised, dateS: likeliestDate(on, raised, -Infinity, Infinity, TURN_STEP_S) };
    goFrom(begun, begun.dateS, bank);
    return begun;
  }

  /** What has come since says more about the date. */
  function dateAgain(on: Scout, of: Turn): Turn {
    const dateS = likeliestDate(on, of, of.dateS - TURN_WITHIN_S, of.dateS + TURN_WITHIN_S, TURN_FINE_STEP_S);
    if (Math.abs(dateS - of.dateS) < 0.5 * TURN_FINE_STEP_S) return of;
    bank.takeBeforeTurn();
    goFrom(of, dateS, bank);
    return { ...of, dateS };
  }

  function beginAnewWhereStill(timeS: number, value: number, quantum: number): void {
    still.add(timeS, value);
    if (!still.isDue()) return;
    const { heading, headingSd } = bank.summary();
    if (!still.contradicts(heading, headingSd, quantum)) return;
    turn = undefined;
    begin(timeS, value);
  }

  /** Goes on after an interruption (fresh air, probe out): the heading of before is likely, another one possible. */
  function resume(timeS: number, value: number): void {
    turn = undefined;
    bank.resume(Math.max(0.5, timeS - asideTime), value, blockVariance(), 2 * scale * prior.jump, AFTER_PAUSE_PROBABILITY);
    paused = false;
    alarm.reset();
    still.reset();
    index++;
    first = index;
    remember(timeS, value, blockVariance());
  }

  function remember(timeS: number, value: number, variance: number): void {
    times[index % KEPT] = timeS;
    values[index % KEPT] = value;
    variances[index % KEPT] = variance;
    bank.keep(index);
  }

  return {
    channel,
    bank,
    surprise: () => surprise,
    /** changes of its own so far: each teaches the constants */
    turns: () => turns,
    running: () => running && !paused,
    /** whether a change of its own is known to have begun at or after `timeS` */
    changedSince: (timeS: number): boolean => lastChange >= timeS,
    noiseSd: () => Math.sqrt(blockVariance()),
    pressure: alarm.pressure,
    /**
     * Takes one block mean.
     * @param turned the burner was turned within the last while: what changes is a step, hardly ever the beginning of a slope
     * @returns the time (s) at which a change began, when this block raises an alarm
     */
    push(timeS: number, value: number, quantum: number, count: number, flat: boolean, turned = false): number | undefined {
      isTurn = turned;
      scaleFor(value);
      if (paused) {
        noise.reset();
        resume(timeS, value);
        return undefined;
      }
      noise.add(value);
      if (!running) {
        begin(timeS, value);
        return undefined;
      }
      // a value that stands on one step of the printout says the same again and again: its error is not independent
      const same = flat && value === values[index % KEPT];
      standing = same ? Math.min(standing + 1, STANDING_MOST) : flat ? 1 : 0;
      const stepVariance = (quantum * quantum) / 12;
      const floor = standing > 0 ? stepVariance * (1 + STANDING_WEIGHT * (standing - 1)) : stepVariance / count;
      const r = Math.max(blockVariance() * Math.max(1, surprise), floor);
      const dt = Math.max(0.05, timeS - times[index % KEPT]!);
      if (dt > LONG_PAUSE_SECONDS) {
        bank.setAside(index);
        asideTime = times[index % KEPT]!;
        resume(timeS, value);
        return undefined;
      }
      const { mean, variance } = bank.step(dt, value, r);
      const z = (value - mean) / Math.sqrt(variance);
      // model error: what the bank does not explain goes into the noise and makes the alarm deafer
      surprise += (Math.min(z * z, SURPRISE_CLIP) - surprise) * SURPRISE_GAIN;
      surprise = Math.max(surprise, SURPRISE_LEAST);
      index++;
      remember(timeS, value, r);
      if (turn && (index - turn.base >= KEPT - 1 || bank.active() === bank.size)) turn = undefined;
      if (turn && scout && TURN_AGAIN.includes(index - turn.raised)) {
        turn = dateAgain(scout, turn);
        lastChange = turn.dateS;
      }
      const back = alarm.push(z / Math.sqrt(Math.max(surprise, 0.7)));
      if (back === 0) {
        beginAnewWhereStill(timeS, value, quantum);
        return undefined;
      }
      alarm.reset();
      still.reset();
      const from = Math.max(index - back + 1, first + 1, index - KEPT + 2);
      const at = times[from % KEPT]!;
      // the last calm state, should this turn out to be an interruption
      if (timeS - lastAlarm > CALM_SECONDS) {
        bank.setAside(from - 1);
        asideTime = times[(from - 1) % KEPT]!;
      }
      lastAlarm = timeS;
      turns++;
      const sd = scale * prior.jump + 1.5 * Math.abs(value - mean);
      if (scout) {
        const base = Math.max(from - TURN_LOOK_BACK, first, index - KEPT + 1);
        turn = beginTurn(scout, { base, dateS: at, sd, raised: index });
        lastChange = turn.dateS;
      } else {
        lastChange = at;
        rewind(from, sd, OWN_PROBABILITY, true);
      }
      return lastChange;
    },
    /** Another channel has changed at `timeS`, or a mark says so: this one may be about to, by about `sd`. */
    mayChange(timeS: number, own: boolean, turned: boolean): void {
      const sd = scale * (own ? prior.jump : prior.echo);
      if (!running || paused || sd === 0) return;
      if (!own && bank.active() > bank.size && bank.age() < 6) return;
      if (!own && turn && timeS - turn.dateS < SAME_TURN_S) return;
      if (own) turn = undefined;
      if (own) still.reset();
      isTurn = turned;
      let from = index + 1;
      while (from > Math.max(first + 1, index - KEPT + 2) && times[(from - 1) % KEPT]! >= timeS) from--;
      rewind(from, sd, own ? MARK_PROBABILITY : ECHO_PROBABILITY, false);
    },
    /** What comes now is no flue gas: keep what is known from before the interruption and take nothing. */
    pause(timeS: number): void {
      if (!running || paused) return;
      turn = undefined;
      if (timeS - lastAlarm > CALM_SECONDS) {
        bank.setAside(index);
        asideTime = times[index % KEPT]!;
      }
      paused = true;
    },
    reset(): void {
      turn = undefined;
      still.reset();
      running = false;
      paused = false;
      noise.reset();
      alarm.reset();
      lastAlarm = -Infinity;
      lastChange = -Infinity;
    },
  };
}

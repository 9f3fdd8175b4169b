/**
 * A channel that keeps moving: it surges to and fro, climbs in stairs, or swings at random. After each of its moves the filters see a new rest at once,
 * and would read it. What has moved twice without a turn of the burner will most likely move a third time, so a rest is believed only once it has
 * lasted longer than the pauses between the moves before it.
 */

/** A move: so many bands away from where the value stood, and so many standard deviations of a block: flutter and noise are no moves. */
const MOVE_BANDS = 1.6;
const MOVE_SDS = 4;
/** Moves that have not led so many bands away, there or back, are a wander about one level. */
const LEFT_BANDS = 2.2;
/** Where a way through fresh air leads out and back is no move: from so long before it was seen to so long after it. */
const AIR_BEFORE_S = 25;
const AIR_AFTER_S = 40;
/** Moves in one direction that follow each other within so long are one move: a cell creeps to its end. */
const JOIN_S = 25;
/** What moved longer ago than this is forgotten. */
const MEMORY_S = 300;
/** Moves further apart than this have nothing to do with each other: a burner is turned about so often. */
const CHAIN_S = 60;
const MOST = 12;
/** A rest after one move that nothing explains, and the shortest and longest after several. */
const QUIET_ONCE_S = 40;
const QUIET_LEAST_S = 45;
const QUIET_MOST_S = 80;
const QUIET_FACTOR = 1.35;
/** So many moves to and fro are a swing without a pattern: where it turns slowly it pauses for longer than its pauses so far let expect. */
const SWING_MOVES = 3;
const QUIET_SWINGING_S = 100;
/** A turn of the burner shows in the stack temperature within so long; the hose makes the gases later, the metal the stack. */
const SAME_TURN_S = 30;

/** Turning points that make a swing a surge, and the periods (s) that are called so. */
const LEAST_TURNS = 3;
/** With the stack itself nothing tells a turn of the burner from a swing: one more. */
const LEAST_TURNS_STACK = 4;
const PERIOD_S = [15, 200] as const;
/** From one turning point to the next, in the middle. */
const SURGE_BANDS = 2.5;
/** Spread of the half periods, as a part of their mean, beyond which no period is named. */
const REGULAR = 0.35;

type Move = { readonly fromS: number; toS: number; readonly direction: number; readonly before: number; after: number };
export type Surge = { readonly periodS: number | undefined; readonly low: number; readonly high: number; readonly sinceS: number };

export function createRestless() {
  let anchor: number | undefined;
  let previous: number | undefined;
  let moves: Move[] = [];
  let turns: { timeS: number; value: number }[] = [];
  let heading = 0;
  let extreme = { timeS: 0, value: 0 };
  /** the least change that counts, and the band, at the last block */
  let least = 0;
  let lastBand = 0;
  let isOutside = false;
  let againFromS = -Infinity;

  function turned(timeS: number, value: number): void {
    const away = value - extreme.value;
    if (heading === 0 || Math.sign(away) === heading) {
      if (heading === 0 && Math.abs(away) <= least) return;
      heading = Math.sign(away);
      extreme = { timeS, value };
      return;
    }
    if (Math.abs(away) <= least) return;
    turns.push(extreme);
    if (turns.length > MOST) turns.shift();
    heading = -heading;
    extreme = { timeS, value };
  }

  /** the moves that no turn of the burner explains */
  const unexplained = (nowS: number, turnedAtS: readonly number[]): Move[] =>
    moves.filter(
      ({ fromS, toS }) => nowS - toS < MEMORY_S && !turnedAtS.some((atS) => atS > fromS - SAME_TURN_S && atS < toS + SAME_TURN_S),
    );

  function swings(open: readonly Move[]): boolean {
    if (open.length < SWING_MOVES) return false;
    let low = Infinity;
    let high = -Infinity;
    let balance = 0;
    for (const { before, after, direction } of open) {
      low = Math.min(low, before, after);
      high = Math.max(high, before, after);
      balance += direction;
    }
    return Math.abs(balance) < open.length && high - low >= LEFT_BANDS * lastBand;
  }

  return {
    /** @param sd of a block mean */
    add(timeS: number, blockMean: number, band: number, sd: number): void {
      lastBand = band;
      least = Math.max(MOVE_BANDS * band, MOVE_SDS * sd);
      if (isOutside) againFromS = timeS + AIR_AFTER_S;
      isOutside = false;
      if (timeS < againFromS) return;
      const value = previous === undefined ? blockMean : (previous + blockMean) / 2;
      previous = blockMean;
      if (anchor === undefined) {
        anchor = value;
        extreme = { timeS, value };
        return;
      }
      turned(timeS, value);
      const away = value - anchor;
      if (Math.abs(away) <= least) return;
      const before = anchor;
      anchor = value;
      const last = moves.at(-1);
      if (last !== undefined && last.direction === Math.sign(away) && timeS - last.toS < JOIN_S) {
        last.toS = timeS;
        last.after = value;
      } else moves.push({ fromS: timeS, toS: timeS, direction: Math.sign(away), before, after: value });
      if (moves.length > MOST) moves.shift();
    },
    /** @param turnedAtS when the burner was turned, as marks or the stack temperature say */
    isRestless(nowS: number, turnedAtS: readonly number[]): boolean {
      const open = unexplained(nowS, turnedAtS);
      const last = open.at(-1);
      if (last === undefined) return false;
      const quietS = nowS - last.toS;
      if (quietS < QUIET_SWINGING_S && swings(open)) return true;
      let longest = 0;
      let low = Math.min(last.before, last.after);
      let high = Math.max(last.before, last.after);
      for (let i = open.length - 1; i > 0 && i > open.length - 5; i--) {
        const earlier = open[i - 1]!;
        const pause = open[i]!.fromS - earlier.toS;
        if (pause > CHAIN_S) break;
        low = Math.min(low, earlier.before, earlier.after);
        high = Math.max(high, earlier.before, earlier.after);
        longest = Math.max(longest, pause);
      }
      if (longest === 0 || high - low < LEFT_BANDS * lastBand) return quietS < QUIET_ONCE_S;
      return quietS < Math.min(QUIET_MOST_S, Math.max(QUIET_LEAST_S, QUIET_FACTOR * longest));
    },
    /**
     * Swinging to and fro now: between which values, and how often where that is regular.
     * @param turnedAtS when the burner was turned; undefined for the stack itself
     */
    surge(nowS: number, band: number, turnedAtS: readonly number[] | undefined): Surge | undefined {
      const explained = (timeS: number): boolean => turnedAtS?.some((atS) => Math.abs(timeS - atS) < SAME_TURN_S) === true;
      const recent = turns.filter(({ timeS }) => nowS - timeS < 2.5 * PERIOD_S[1] && !explained(timeS)).slice(-6);
      if (recent.length < (turnedAtS === undefined ? LEAST_TURNS_STACK : LEAST_TURNS)) return undefined;
      const halves = recent.slice(1).map(({ timeS }, i) => timeS - recent[i]!.timeS);
      const half = halves.reduce((sum, x) => sum + x, 0) / halves.length;
      const last = recent.at(-1)!;
      if (2 * half < PERIOD_S[0] || 2 * half > PERIOD_S[1] || nowS - last.timeS > Math.max(30, 2.2 * half)) return undefined;
      const sizes = recent.slice(1).map(({ value }, i) => Math.abs(value - recent[i]!.value));
      if (sizes.reduce((sum, x) => sum + x, 0) / sizes.length < SURGE_BANDS * band) return undefined;
      const spread = Math.sqrt(halves.reduce((sum, x) => sum + (x - half) ** 2, 0) / halves.length) / half;
      const isHigh = (i: number): boolean =>
        recent[i + 1] === undefined ? recent[i]!.value > recent[i - 1]!.value : recent[i]!.value > recent[i + 1]!.value;
      const ends = (high: boolean): number => {
        const some = recent.filter((_, i) => isHigh(i) === high).map(({ value }) => value);
        return some.reduce((sum, x) => sum + x, 0) / some.length;
      };
      return { periodS: spread > REGULAR ? undefined : 2 * half, low: ends(false), high: ends(true), sinceS: recent[0]!.timeS };
    },
    /** Nothing joins over an interruption; where the value comes back to is not a move. */
    interrupt(nowS: number, isFreshAir: boolean): void {
      if (isFreshAir) {
        isOutside = true;
        moves = moves.filter(({ fromS }) => fromS < nowS - AIR_BEFORE_S);
        turns = turns.filter(({ timeS }) => timeS < nowS - AIR_BEFORE_S);
      }
      anchor = undefined;
      previous = undefined;
      heading = 0;
    },
    reset(): void {
      anchor = undefined;
      previous = undefined;
      heading = 0;
      moves = [];
      turns = [];
      isOutside = false;
      againFromS = -Infinity;
    },
  };
}

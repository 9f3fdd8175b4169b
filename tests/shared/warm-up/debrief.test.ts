/** The class after its exercises: calls of one curve together, and exercises that nobody knows by their place. */
import { describe, expect, it } from 'vitest';
import { CallResult, ExerciseSet } from '../../../shared/warm-up/call-it.ts';
import { debriefs, watchedKey, withoutCurve } from '../../../shared/warm-up/debrief.ts';
import { builtInExercises, shuffled } from '../../../shared/warm-up/exercises.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';

const watchedTo = (endS: number) => ({
  o2: { seconds: [0, endS], values: [6, 5] },
  stackTemperature: { seconds: [0, endS], values: [20, 200] },
});
const call = (trainee: string, calledS: number, more: object = {}) =>
  CallResult.parse({
    format: 1,
    trainee,
    exercise: 'Burner A',
    wallMs: 1000 + calledS,
    calledMs: calledS * 1000,
    readyMs: 600_000,
    points: 5,
    of: 'simulated cold-start 11',
    watched: watchedTo(660),
    ...more,
  });

describe('the debrief', () => {
  it('shows the calls of one curve together, earliest first, on the longest stretch that anybody watched', () => {
    const [one, none] = debriefs([call('7', 700, { watched: watchedTo(760) }), call('3', 420), call('5', 600)]);
    expect(none).toBeUndefined();
    expect(one?.calls.map(({ number, result }) => [number, result.trainee])).toEqual([
      [1, '3'],
      [2, '5'],
      [3, '7'],
    ]);
    expect(one?.readyS).toBe(600);
    expect(one?.curve.stackTemperature?.seconds.at(-1)).toBe(760);
  });
  it('keeps another seed of the same name apart, newest first, and leaves out calls of which nothing was saved', () => {
    const other = call('9', 300, { of: 'simulated cold-start 12', wallMs: 9_000_000 });
    const old = call('2', 100, { of: undefined, watched: undefined });
    expect(debriefs([call('3', 420), old, other]).map(({ of, calls }) => [of, calls.length])).toEqual([
      ['simulated cold-start 12', 1],
      ['simulated cold-start 11', 1],
    ]);
  });
  it('loses no call: each is on a curve or among those without one, newest first', () => {
    const results = [
      call('3', 420),
      call('2', 100, { of: undefined, watched: undefined, wallMs: 1_000 }),
      call('4', 200, { watched: undefined, wallMs: 2_000 }),
    ];
    expect(withoutCurve(results).map(({ trainee }) => trainee)).toEqual(['4', '2']);
    const drawn = debriefs(results).flatMap(({ calls }) => calls.map(({ result }) => result));
    expect(new Set([...drawn, ...withoutCurve(results)])).toEqual(new Set(results));
    expect(withoutCurve([call('3', 420)])).toEqual([]);
  });
});

describe('shuffled exercises', () => {
  const mixed = shuffled(builtInExercises, seededRandom(4), 'mixed');
  const scenarios = (set: ExerciseSet): string[] =>
    set.exercises.flatMap(({ source }) => (source.kind === 'simulated' ? [source.scenario] : []));
  it('are the same burners in another order, with other seeds and names by their place', () => {
    expect(scenarios(mixed)).not.toEqual(scenarios(builtInExercises));
    expect(scenarios(mixed).toSorted()).toEqual(scenarios(builtInExercises).toSorted());
    expect(mixed.exercises.map(({ name }) => name)).toEqual(builtInExercises.exercises.map((_, at) => `Burner ${'ABCDEFGHI'[at]}`));
    const keys = new Set(builtInExercises.exercises.map(({ source }) => watchedKey(source)));
    expect(mixed.exercises.filter(({ source }) => keys.has(watchedKey(source)))).toEqual([]);
    expect(ExerciseSet.safeParse(mixed).success).toBe(true);
  });
  it('leave stored runs what they are, but for their place', () => {
    const replay = { name: 'Boiler of May', source: { kind: 'replay', runId: 'r1' }, fromMs: 0, speed: 1 } as const;
    const set = shuffled({ ...builtInExercises, exercises: [replay, ...builtInExercises.exercises] }, seededRandom(1), 'x');
    expect(set.exercises).toContainEqual(replay);
  });
});

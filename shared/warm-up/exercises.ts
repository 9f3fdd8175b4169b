/** Sets of exercises: the one that comes along, and reading and writing them as files. */
import { z } from 'zod';
import { problem, type Problem } from '../problem.ts';
import { err, ok, type Result } from '../result.ts';
import { ExerciseSet, type ExercisePattern } from './call-it.ts';
import { warmUpTexts } from '../words/core/warm-up.ts';
import { plainRefusal } from '../plain-refusal.ts';

/** What a scenario of the simulated burner shows, where that is one of the patterns a trainee can name. */
export const scenarioPatterns: Readonly<Partial<Record<string, ExercisePattern>>> = {
  'tune-up': 'normal',
  'cold-start': 'normal',
  'air-leak': 'dilution',
  'creeping-co': 'creeping-co',
  flutter: 'flutter',
  'falling-draft': 'falling-draft',
  'sooted-exchanger': 'high-stack',
  'slow-cell': 'slow-cell',
  purge: 'purge',
};

const simulated = (name: string, scenario: string, seed: number, fromMinutes = 0): z.input<typeof ExerciseSet>['exercises'][number] => ({
  name,
  source: { kind: 'simulated', scenario, seed },
  fromMs: fromMinutes * 60_000,
  pattern: scenarioPatterns[scenario],
});

/** Their names say nothing about what is wrong. */
export const builtInExercises: ExerciseSet = ExerciseSet.parse({
  format: 'flueside-exercises',
  version: 1,
  name: 'Nine simulated burners',
  exercises: [
    simulated('Burner A', 'cold-start', 11),
    simulated('Burner B', 'slow-cell', 12),
    simulated('Burner C', 'air-leak', 13),
    simulated('Burner D', 'tune-up', 14),
    simulated('Burner E', 'sooted-exchanger', 15),
    simulated('Burner F', 'creeping-co', 16),
    simulated('Burner G', 'flutter', 17),
    simulated('Burner H', 'purge', 18),
    simulated('Burner I', 'falling-draft', 19),
  ],
});

const MOST_SEED = 1_000_000;
const letterOf = (index: number): string => (index < 26 ? String.fromCharCode(65 + index) : String(index + 1));

/**
 * The same exercises in another order, each simulated burner with a seed of its own: nobody knows by the name or the place what comes.
 *
 * @param random in [0, 1), a number at each call
 */
export function shuffled(set: ExerciseSet, random: () => number, name: string): ExerciseSet {
  const exercises = [...set.exercises];
  for (let last = exercises.length - 1; last > 0; last--) {
    const other = Math.floor(random() * (last + 1));
    [exercises[last], exercises[other]] = [exercises[other]!, exercises[last]!];
  }
  return {
    ...set,
    name: name.slice(0, 120),
    exercises: exercises.map((exercise, index) =>
      exercise.source.kind === 'simulated'
        ? {
            ...exercise,
            name: warmUpTexts.burner(letterOf(index)),
            about: undefined,
            source: { ...exercise.source, seed: Math.floor(random() * MOST_SEED) },
          }
        : exercise,
    ),
  };
}

/** A set as the text of a file. */
export const exercisesText = (set: ExerciseSet): string => `${JSON.stringify(set, undefined, 2)}\n`;

/** @returns the set in a file's text, or why it is none */
export function readExercises(text: string): Result<ExerciseSet, Problem> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return err(problem('file-foreign', warmUpTexts.notJson));
  }
  const head = z.object({ format: z.literal('flueside-exercises'), version: z.number() }).safeParse(value);
  if (!head.success) return err(problem('file-foreign', warmUpTexts.noExerciseFile));
  if (head.data.version > 1) return err(problem('file-newer'));
  const set = ExerciseSet.safeParse(value);
  return set.success ? ok(set.data) : err(problem('file-damaged', plainRefusal(set.error)));
}

import { useState } from 'react';
import type { CallResult, Exercise, ExerciseSet } from '../../../../shared/warm-up/call-it.ts';
import { watchedKey } from '../../../../shared/warm-up/debrief.ts';
import { seededRandom } from '../../../../shared/tuning/training/random.ts';
import { builtInExercises, exercisesText, readExercises, shuffled } from '../../../../shared/warm-up/exercises.ts';
import { practiceKinds, type PracticeKind } from '../../../../shared/tuning/training/practice.ts';
import { practiceWords } from '../../../../shared/words/practice.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { useParts } from '../../../app-parts.ts';
import { saveText } from '../../../backend/save-text.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { Choice } from '../../../components/Field.tsx';
import { FileButton } from '../../../components/FileButton.tsx';
import { beginExercise } from './begin-exercise.ts';
import type { Kept } from '../use-documents.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { problemLine } from '../../../../shared/words/problems.ts';
import '../warm-up.css';
import './call-it.css';

const BUILT_IN = 'built-in';
const SHUFFLED = 'shuffled';
/** A set is a small text; anything longer is none. */
const LONGEST_FILE = 200_000;

type Props = {
  sets: readonly Kept<ExerciseSet>[];
  calls: readonly Kept<CallResult>[];
  mayKeep: boolean;
  reload: () => void;
  /** questions without a burner, in a window of their own */
  practise: (kind: PracticeKind) => void;
  close: () => void;
};

/** Sets of exercises: the one that comes along and those that were added from files; each exercise begins its own run. */
export function Exercises({ sets, calls, mayKeep, reload, practise, close }: Props) {
  const parts = useParts();
  const { actions } = parts;
  const [chosen, setChosen] = useState(BUILT_IN);
  const [said, setSaid] = useState<{ text: string; wrong: boolean }>();
  const [busy, setBusy] = useState(false);
  const [mixed, setMixed] = useState<ExerciseSet>();
  const all = [
    ...(mixed === undefined ? [] : [{ id: SHUFFLED, revision: 0, body: mixed }]),
    { id: BUILT_IN, revision: 0, body: builtInExercises },
    ...sets,
  ];
  const set = all.find(({ id }) => id === chosen) ?? all[0]!;

  const add = async (file: File): Promise<void> => {
    const read = file.size > LONGEST_FILE ? readExercises('') : readExercises(await file.text());
    if (!read.ok) return setSaid({ text: warmUp.setRefused(problemLine(read.error)), wrong: true });
    const saved = await actions.ask('document.save', { kind: 'exercises', body: read.value as never });
    if (saved === undefined) return;
    reload();
    setChosen(saved.id);
    setSaid({ text: warmUp.setAdded(read.value.name, read.value.exercises.length), wrong: false });
  };
  const shuffle = (): void => {
    const from = set.id === SHUFFLED ? builtInExercises : set.body;
    setMixed(shuffled(from, seededRandom(crypto.getRandomValues(new Uint32Array(1))[0] ?? 0), warmUp.shuffledName(from.name)));
    setChosen(SHUFFLED);
    setSaid({ text: warmUp.shuffledSaid, wrong: false });
  };
  const begin = async (exercise: Exercise): Promise<void> => {
    if (busy) return;
    setBusy(true);
    if (await beginExercise(parts, exercise)) close();
    setBusy(false);
  };
  const bestOf = (exercise: Exercise): number | undefined => {
    const key = watchedKey(exercise.source);
    const points = calls.flatMap(({ body }) =>
      (key === undefined || body.of === undefined ? body.exercise === exercise.name : body.of === key) ? [body.points] : [],
    );
    return points.length === 0 ? undefined : Math.max(...points);
  };
  return (
    <Dialog title={warmUp.exercises} close={close} wide>
      <p className="second">{warmUp.exercisesAbout}</p>
      <div className="row library-head">
        <Choice
          label={warmUp.sets}
          width={340}
          value={set.id}
          change={setChosen}
          options={all.map(({ id, body }) => ({ value: id, text: body.name }))}
        />
        <span className="grow" />
        <button type="button" className="button" onClick={shuffle}>
          {warmUp.shuffle}
        </button>
        {set.id !== BUILT_IN && set.id !== SHUFFLED && mayKeep && (
          <button
            type="button"
            className="button"
            onClick={() =>
              void actions.ask('document.remove', { kind: 'exercises', id: set.id }).then(() => (setChosen(BUILT_IN), reload()))
            }
          >
            {warmUp.removeSet}
          </button>
        )}
        <button type="button" className="button" onClick={() => saveText(`${fileNameOf(set.body.name)}.json`, exercisesText(set.body))}>
          {warmUp.exportSet}
        </button>
        {mayKeep && <FileButton text={warmUp.importSet} accept=".json,application/json" choose={([file]) => void add(file)} />}
      </div>
      {said !== undefined && (
        <p role="status" className={said.wrong ? 'field-error' : undefined}>
          {said.text}
        </p>
      )}
      <ul className="pick-list exercise-list">
        {set.body.exercises.map((exercise, i) => {
          const best = bestOf(exercise);
          return (
            <li key={`${i} ${exercise.name}`} className="row curve-row">
              <b>{exercise.name}</b>
              <span className="second grow">
                {[warmUp.exerciseKinds[exercise.source.kind], exercise.about ?? ''].filter((part) => part !== '').join(' · ')}
              </span>
              <span className="second">{best === undefined ? warmUp.exerciseNotDone : warmUp.exerciseDone(formatNumber(best, 1))}</span>
              <button
                type="button"
                className="button"
                disabled={busy || !mayKeep}
                onClick={() => void begin(exercise)}
                {...(i === 0 ? { 'data-first': '' } : {})}
              >
                {warmUp.exerciseDo} <span className="hidden-text">{exercise.name}</span>
              </button>
            </li>
          );
        })}
      </ul>
      <section aria-label={practiceWords.about}>
        <p className="second">{practiceWords.about}</p>
        <ul className="pick-list exercise-list">
          {practiceKinds.map((kind) => (
            <li key={kind} className="row curve-row">
              <b className="grow">{practiceWords.kinds[kind]}</b>
              <button type="button" className="button" onClick={() => practise(kind)}>
                {practiceWords.begin} <span className="hidden-text">{practiceWords.kinds[kind]}</span>
              </button>
            </li>
          ))}
        </ul>
      </section>
    </Dialog>
  );
}

const fileNameOf = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60) || 'exercises';

/** One trial: smoke spots, drafts and notes, typed for the setting that stood then. They become marks of the run at that time. */
import { useState } from 'react';
import type { MarkBody, SmokeSpot } from '../../../../shared/measurement/mark.ts';
import { draftDropPa, storedDraft, type DraftPlace, type TypedDraft } from '../../../../shared/tuning/trial/draft.ts';
import { parseSmoke, smokeResult } from '../../../../shared/tuning/trial/smoke.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { draftQuestion } from '../../../../shared/words/visit/draft-question.ts';
import { smokeAdvice, smokeRuleWords } from '../../../../shared/words/visit/smoke-and-window.ts';
import { smokeRefusal } from '../../../../shared/words/visit/refusals.ts';
import { trialWindow as words } from '../../../../shared/words/visit/screens/trial-window.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { optionsOf } from '../../../fields/KeptField.tsx';
import { errorOf, typedQuantity } from '../../../fields/typed.ts';
import { settingWords } from '../../tune/setting-words.ts';
import { numberOf } from '../visit-facts.ts';
import { useVisit } from '../use-visit.ts';
import { formatSmoke, shownAs } from '../../../../shared/format/quantity.ts';
import { defined } from '../../../../shared/defined.ts';
import './curve.css';

type Spot = { text: string; flaw: '' | 'wet' | 'uneven'; oil: boolean };
type Asked = Extract<TypedDraft, { kind: 'ask' }>;

export function TrialWindow() {
  const id = useApp((state) => state.trialOpen);
  const trial = useApp((state) => state.visit?.trials.find((one) => one.id === id));
  const trialOpened = useApp((state) => state.trialOpened);
  return trial === undefined ? null : <TrialForm key={trial.id} trial={trial} close={() => trialOpened(undefined)} />;
}

function TrialForm({ trial, close }: { trial: Trial; close: () => void }) {
  const { actions, store, sounds } = useParts();
  const { visit, units, formats, may, edit } = useVisit();
  const run = useApp((state) => state.runs[trial.runId]);
  const canMark = may && run !== undefined && run.info.phase !== 'ended';
  const before = trial.smoke?.spots ?? [];
  const [spots, setSpots] = useState<readonly Spot[]>(
    [0, 1, 2].map((at) => {
      const spot = before.slice(-3)[at];
      return spot === undefined
        ? { text: '', flaw: '', oil: false }
        : { text: formatSmoke(spot.number), flaw: spot.flaw ?? '', oil: spot.oilTrace === true };
    }),
  );
  const [touched, setTouched] = useState(false);
  const [overFire, setOverFire] = useState('');
  const [breech, setBreech] = useState('');
  const [note, setNote] = useState('');
  const [asked, setAsked] = useState<Asked[]>([]);
  const [tried, setTried] = useState(false);
  const [ended, setEnded] = useState(false);

  const parsed = spots.map(({ text }) => (text.trim() === '' ? undefined : parseSmoke(text)));
  const readable: SmokeSpot[] = spots.flatMap((spot, at) => {
    const one = parsed[at];
    return one?.ok === true
      ? [{ number: one.value, ...(spot.flaw === '' ? {} : { flaw: spot.flaw }), ...(spot.oil ? { oilTrace: true } : {}) }]
      : [];
  });
  const rule = visit.targetCard?.smokeRule ?? visit.smokeRule;
  const result = smokeResult(readable, rule);
  const advice = readable.length === 0 ? undefined : smokeAdvice(result);
  const change = (at: number, part: Partial<Spot>): void => {
    setTouched(true);
    setSpots(spots.map((spot, index) => (index === at ? { ...spot, ...part } : spot)));
  };
  const typed = { 'over-fire': typedQuantity(overFire, 'draft', units), breech: typedQuantity(breech, 'draft', units) } as const;
  const { unit } = shownAs('draft', units);
  const storedOf = (place: DraftPlace): TypedDraft | undefined => {
    const one = typed[place];
    return one.kind === 'value'
      ? storedDraft({ typedPa: one.value, place, habit: visit.draftHabit, pressurised: visit.pressurised })
      : undefined;
  };

  /** inside the stretch of this setting, so that it stays with it when the next one is marked */
  const atMs =
    trial.toMs === undefined ? undefined : Math.max(trial.fromMs, Math.min(trial.toMs - 1, (trial.reading?.toMs ?? trial.toMs) + 1));
  const mark = async (body: MarkBody): Promise<boolean> =>
    (await actions.mark(body, { trialId: trial.id, timeMs: atMs, trialChanged: () => setEnded(true) })) !== undefined;

  async function keep(answers: Partial<Record<DraftPlace, number>> = {}): Promise<void> {
    setTried(true);
    if (parsed.some((one) => one !== undefined && !one.ok)) return;
    if (typed['over-fire'].kind === 'wrong' || typed.breech.kind === 'wrong') return;
    const kept: Partial<Record<DraftPlace, number>> = { ...answers };
    const open: Asked[] = [];
    for (const place of ['over-fire', 'breech'] as const) {
      const stored = kept[place] === undefined ? storedOf(place) : undefined;
      if (stored?.kind === 'stored') kept[place] = stored.pa;
      else if (stored?.kind === 'ask') open.push(stored);
    }
    if (open.length > 0) return setAsked(open);
    const hasSmoke = touched && readable.length > 0;
    const hasDraft = kept['over-fire'] !== undefined || kept.breech !== undefined;
    if (!hasSmoke && !hasDraft && note.trim() === '') return;
    if (hasSmoke) {
      // spots typed anew take the place of those that stood here: the earlier marks are undone, and that is kept
      const old =
        run?.marks.filter(
          ({ body, timeMs }) => body.kind === 'smoke' && timeMs >= trial.fromMs && (trial.toMs === undefined || timeMs < trial.toMs),
        ) ?? [];
      // the new ones first: what stood here is not lost where they are refused
      if (!(await mark({ kind: 'smoke', spots: readable }))) return;
      for (const { id: markId } of old) {
        const done = await actions.ask('run.editMark', { runId: trial.runId, edit: { kind: 'undone', markId } });
        if (done !== undefined) store.getState().markEdited(trial.runId, { kind: 'undone', markId });
      }
    }
    const drafts = defined({ overFirePa: kept['over-fire'], breechPa: kept.breech });
    if (hasDraft && !(await mark({ kind: 'draft', ...drafts }))) return;
    if (note.trim() !== '' && !(await mark({ kind: 'note', text: note.trim().slice(0, 2000) }))) return;
    sounds.play('mark');
    close();
  }
  const answer = (question: Asked, pa: number): void => {
    const habit = pa < 0 ? 'plain' : 'minus';
    if (visit.draftHabit === 'unknown') edit({ path: ['draftHabit'], after: habit });
    const rest = asked.filter((one) => one !== question);
    setAsked(rest);
    const stored = { [question.place]: pa } as Partial<Record<DraftPlace, number>>;
    // the same person writes the other figure the same way
    for (const one of rest) stored[one.place] = pa < 0 ? one.suctionPa : one.pressurePa;
    void keep(stored);
  };
  const drop = trial.draft === undefined ? undefined : draftDropPa(trial.draft);
  const draftHint = (place: DraftPlace, pa: number | undefined): string | undefined => {
    const stored = storedOf(place);
    if (stored?.kind === 'stored') return words.kept(formats.draft(stored.pa));
    return pa === undefined ? undefined : words.kept(formats.draft(pa));
  };

  return (
    <Dialog
      title={words.title(numberOf(visit, trial.id))}
      close={close}
      submit={keep}
      wide
      foot={
        <DialogFoot main={words.use} off={!canMark} says={<span className="grow second small">{canMark ? '' : words.runOver}</span>}>
          <button
            type="button"
            className="button"
            disabled={!canMark}
            onClick={() => void mark({ kind: 'smoke', spots: [], notTaken: true }).then((done) => done && close())}
          >
            {words.notTaken}
          </button>
        </DialogFoot>
      }
    >
      <p className="second">
        {settingWords(trial.setting) === '' ? live.noSetting : settingWords(trial.setting)}
        {trial.inferred === true ? ` · ${words.inferred}` : ''}
      </p>
      <div className="choice-row">
        {spots.map((spot, at) => {
          const one = parsed[at];
          return (
            <div key={at} className="spot">
              <Field
                label={words.spot(at + 1)}
                value={spot.text}
                first={at === 0}
                disabled={!canMark}
                change={(text) => change(at, { text })}
                error={one?.ok === false && (tried || spot.text.length > 1) ? smokeRefusal(one.error, formats) : undefined}
              />
              <Choice label={words.flaw} value={spot.flaw} change={(flaw) => change(at, { flaw })} options={optionsOf(words.flaws)} />
              <Check label={words.oil} checked={spot.oil} change={(oil) => change(at, { oil })} />
            </div>
          );
        })}
        <div className="spot-result">
          {result.mean === undefined ? (
            <p className="second">{words.noSmoke}</p>
          ) : (
            <dl>
              <dt>{words.mean}</dt>
              <dd className="number">{formatSmoke(Math.round(result.mean * 10) / 10)}</dd>
              <dt>
                {words.byRule}: {smokeRuleWords[rule]}
              </dt>
              <dd className="number">{result.number === undefined ? '–' : formatSmoke(result.number)}</dd>
            </dl>
          )}
          {advice !== undefined && <p className="notice-text">{advice}</p>}
        </div>
      </div>
      <div className="choice-row">
        <Field
          label={words.overFire}
          value={overFire}
          change={setOverFire}
          unit={unit}
          width={200}
          disabled={!canMark}
          error={errorOf(typed['over-fire'])}
          hint={draftHint('over-fire', trial.draft?.overFirePa)}
        />
        <Field
          label={words.breech}
          value={breech}
          change={setBreech}
          unit={unit}
          width={200}
          disabled={!canMark}
          error={errorOf(typed.breech)}
          hint={draftHint('breech', trial.draft?.breechPa)}
        />
        <div style={{ flex: 1, minWidth: 220 }}>
          <Field label={words.note} value={note} change={setNote} numeric={false} disabled={!canMark} />
        </div>
      </div>
      {drop !== undefined && <p className="second">{words.drop(formats.draft(drop))}</p>}
      {asked.map((question) => {
        const text = draftQuestion(question, formats);
        return (
          <div key={question.place} className="say notice" role="alert">
            <b className="grow">{text.question}</b>
            <button type="button" className="button" onClick={() => answer(question, question.suctionPa)}>
              {text.suction}
            </button>
            <button type="button" className="button" onClick={() => answer(question, question.pressurePa)}>
              {text.pressure}
            </button>
          </div>
        );
      })}
      {tried && !touched && note.trim() === '' && typed['over-fire'].kind === 'empty' && typed.breech.kind === 'empty' && (
        <p className="field-error">{words.nothing}</p>
      )}
      {ended && (
        <p className="say notice" role="alert">
          {words.ended}
        </p>
      )}
      {trial.notes.length > 0 && (
        <section>
          <h3>{words.notes}</h3>
          <ul className="notes">
            {trial.notes.map((text, at) => (
              <li key={at}>{text}</li>
            ))}
          </ul>
        </section>
      )}
    </Dialog>
  );
}

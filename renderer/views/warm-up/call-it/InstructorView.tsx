import { useEffect, useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import { channelWords } from '../../../../shared/words/tune/states.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import { HostAlert } from '../../../components/alerts/HostAlert.tsx';
import { Key } from '../../../components/Key.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { channelRows } from '../../../state/channels.ts';
import { selectIsRunning, selectRun, selectUnits } from '../../../state/selectors.ts';
import { errorOf, typedPlain, valueOf } from '../../../fields/typed.ts';
import { rowWordsOf } from '../../tune/rows/row-words.ts';
import { BurnerControls } from '../BurnerControls.tsx';
import { ClassOverview } from './ClassOverview.tsx';
import { useCalls } from '../use-documents.ts';
import { DASH, formatPosition, formatWithUnit } from '../../../../shared/format/quantity.ts';
import '../warm-up.css';
import './InstructorView.css';

type Scenarios = Output<'source.list'>['scenarios'];
const words = warmUp.instructor;

/** The second window: picks the burner, changes it under the trainee's window, and sees what the trainee sees with its verdicts. */
export function InstructorView() {
  const record = useApp(selectRun);
  const isRunning = useApp(selectIsRunning);
  const { kept: calls } = useCalls();
  const [open, setOpen] = useState<'class'>();
  const simulator = record?.info.simulator;
  useKey('class', () => setOpen('class'), open === undefined);
  return (
    <div className="warm-up instructor">
      <div className="tools warm-up-head">
        <h1 className="title">{words.title}</h1>
        <span className="second">{words.about}</span>
        <span className="grow" />
        <button type="button" className="button" onClick={() => setOpen('class')}>
          {warmUp.classTitle} <Key action="class" />
        </button>
      </div>
      <div className="instructor-main">
        <section data-region="main" aria-label={words.now}>
          <BeginScenario replaces={isRunning && simulator !== undefined ? record?.info.runId : undefined} />
          <h2>{words.now}</h2>
          {record === undefined ? <p className="second">{words.noRun}</p> : <Figures />}
          {record !== undefined && <p className="second note">{words.truth}</p>}
          {record !== undefined && simulator !== undefined && <Adjusters runId={record.info.runId} adjusters={simulator.adjusters} />}
        </section>
        <section className="warm-up-side" data-region="right" aria-label={warmUp.teachTitle}>
          {record !== undefined && simulator !== undefined && isRunning ? (
            <BurnerControls key={record.info.runId} runId={record.info.runId} />
          ) : (
            <p className="second">{words.noRun}</p>
          )}
        </section>
      </div>
      <HostAlert />
      {open === 'class' && <ClassOverview calls={calls} close={() => setOpen(undefined)} />}
    </div>
  );
}

function BeginScenario({ replaces }: { replaces: string | undefined }) {
  const { actions, store } = useParts();
  const [scenarios, setScenarios] = useState<Scenarios>([]);
  const [name, setName] = useState('cold-start');
  const [seed, setSeed] = useState('1');
  const typed = typedPlain(seed);
  const seedValue = valueOf(typed);
  useEffect(() => {
    let isOpen = true;
    void actions.ask('source.list', {}).then((found) => isOpen && found !== undefined && setScenarios(found.scenarios));
    return () => {
      isOpen = false;
    };
  }, [actions]);
  const begin = async (): Promise<void> => {
    if (seedValue === undefined) return;
    // the trainee's window follows the run that begins; the one before would only run on unseen
    if (replaces !== undefined) await actions.ask('run.end', { runId: replaces });
    const info = await actions.ask('run.start', { source: { kind: 'simulated', scenario: name, seed: Math.trunc(seedValue) } });
    if (info === undefined) return;
    store.getState().runChanged(info);
    store.getState().runChosen(info.runId);
  };
  return (
    <form
      className="row instructor-begin"
      onSubmit={(event) => {
        event.preventDefault();
        void begin();
      }}
    >
      <Choice
        label={words.scenario}
        width={250}
        value={name}
        change={setName}
        options={scenarios.length === 0 ? [{ value: name, text: name }] : scenarios.map((one) => ({ value: one.name, text: one.title }))}
      />
      <Field label={words.seed} value={seed} change={setSeed} width={140} error={errorOf(typed)} />
      <button type="submit" className="button">
        {words.begin}
      </button>
    </form>
  );
}

/** What the instrument shows and what Flueside makes of it, as the trainee may not see it. */
function Figures() {
  const { buffers } = useParts();
  const record = useApp(selectRun);
  const units = useApp(selectUnits);
  if (record === undefined) return null;
  const run = buffers.of(record.info.runId);
  return (
    <table className="instructor-figures">
      <caption className="hidden-text">{words.now}</caption>
      <tbody>
        {channelRows(record, (channel) => run.latest(channel)).map((row) => {
          const text = rowWordsOf(row, record.face.timeMs, undefined, units);
          return (
            <tr key={row.channel}>
              <th scope="row">
                <ChannelName text={channelWords[row.channel].name} />
              </th>
              <td className="right figure-cell">{row.value === undefined ? DASH : formatWithUnit(row.channel, row.value, units)}</td>
              <td>
                <b>{text.state}</b> <span className="second">{text.left}</span>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

type Adjuster = { name: string; min: number; max: number; step: number; value: number };

/** The air as the trainee could turn it: moved here it moves without a mark. */
function Adjusters({ runId, adjusters }: { runId: string; adjusters: readonly Adjuster[] }) {
  const { actions } = useParts();
  return (
    <>
      <h2>{words.adjusters}</h2>
      <ul className="teach-amounts short">
        {adjusters.map(({ name, min, max, step, value }) => (
          <li key={name}>
            <label htmlFor={`adjuster-${name}`}>{name}</label>
            <input
              id={`adjuster-${name}`}
              type="range"
              min={min}
              max={max}
              step={step}
              value={value}
              onChange={({ target }) => void actions.ask('simulator.adjust', { runId, name, value: Number(target.value) })}
            />
            <output htmlFor={`adjuster-${name}`} className="num">
              {formatPosition(value)}
            </output>
          </li>
        ))}
      </ul>
    </>
  );
}

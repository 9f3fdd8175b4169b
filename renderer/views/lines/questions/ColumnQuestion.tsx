/** One question that shows all: what each column is taken for, why, and what was ruled out. Nothing is used before it is answered. */
import { useRef, useState } from 'react';
import type { RunInfo, ShownColumn } from '../../../../shared/ipc/run-info.ts';
import type { FieldPlace } from '../../../../shared/measurement/recipe.ts';
import { unitsFor, type SentUnit } from '../../../../shared/measurement/sent-unit.ts';
import { channelIds, type ChannelId } from '../../../../shared/measurement/channel.ts';
import { question as words, placeWord } from '../../../../shared/words/lines/learning.ts';
import { takenWords, whyOpen, whyRuledOut, whyTaken } from '../../../../shared/words/lines/column-reasons.ts';
import { recipeWords } from '../../../../shared/words/lines/lines.ts';
import { useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Key } from '../../../components/Key.tsx';
import { useDigits, useKey } from '../../../keys/use-key.ts';
import './ColumnQuestion.css';
import './DisplayCheck.css';
import '../lines.css';

type Answer = { readonly channel: ChannelId | 'none'; readonly unit?: SentUnit | undefined };
type Answers = ReadonlyMap<string, Answer>;

const keyOf = (at: FieldPlace): string => JSON.stringify(at);
const numberOf = (at: FieldPlace, index: number): string => (typeof at === 'number' ? String(at + 1) : String(index + 1));
/** A channel comes from one column: a guess gives way to what a person answered, also a guess that comes with later lines. */
const takenNow = (column: ShownColumn, answers: Answers): ChannelId | 'none' | 'time' => {
  const answer = answers.get(keyOf(column.at));
  if (answer !== undefined) return answer.channel;
  const isAnswered = [...answers.values()].some(({ channel }) => channel === column.taken);
  return isAnswered ? 'none' : (column.taken ?? 'none');
};

export function ColumnQuestion({
  info,
  mayAct,
  declined,
}: {
  info: RunInfo & { question: NonNullable<RunInfo['question']> };
  mayAct: boolean;
  declined: () => void;
}) {
  const { actions, store } = useParts();
  const { columns, hidden } = info.question;
  const [answers, setAnswers] = useState<Answers>(new Map());
  const body = useRef<HTMLTableSectionElement>(null);

  const change = (column: ShownColumn, answer: Answer): void => {
    // of two answers that give one channel the later one counts
    const others = [...answers].map(([at, one]): [string, Answer] => [
      at,
      answer.channel !== 'none' && one.channel === answer.channel ? { channel: 'none' } : one,
    ]);
    setAnswers(new Map([...others, [keyOf(column.at), answer]]));
  };
  const used = columns.filter((column) => !['none', 'time'].includes(takenNow(column, answers)));
  const looks = columns.flatMap((column, index) => (column.sureness === 'look' ? [numberOf(column.at, index)] : []));

  const use = async (): Promise<void> => {
    if (!mayAct || used.length === 0) return;
    const said = columns.flatMap((column) => {
      const answer = answers.get(keyOf(column.at));
      if (answer !== undefined) return [{ at: column.at, ...answer }];
      // what gave way is said, so that it is used as it stands here
      return column.taken !== undefined && takenNow(column, answers) === 'none' ? [{ at: column.at, channel: 'none' as const }] : [];
    });
    const next = await actions.ask('run.answerQuestion', { runId: info.runId, answers: said });
    if (next !== undefined) store.getState().runChanged(next);
  };
  useKey('main', () => void use());
  useDigits((digit) => {
    if (digit === '0') declined();
    else body.current?.querySelectorAll<HTMLSelectElement>('select.column-channel')[Number(digit) - 1]?.focus();
  });

  const sent = new Set(used.map((column) => takenNow(column, answers)));
  const missing = (['o2', 'co', 'co2', 'stackTemperature', 'airTemperature', 'draft', 'pumpPressure', 'ambientCo'] as const).filter(
    (channel) => !sent.has(channel),
  );
  return (
    <div className="column-question">
      <div className="column-scroll" tabIndex={-1}>
        <table className="column-table">
          <caption className="hidden-text">{words.caption}</caption>
          <thead>
            <tr>
              <th scope="col" colSpan={2}>
                <span className="hidden-text">{words.caption}</span>
              </th>
              {words.head.map((text) => (
                <th key={text} scope="col">
                  {text}
                </th>
              ))}
            </tr>
          </thead>
          <tbody ref={body}>
            {columns.map((column, index) => (
              <ColumnRow
                key={keyOf(column.at)}
                column={column}
                number={numberOf(column.at, index)}
                taken={takenNow(column, answers)}
                unit={answers.get(keyOf(column.at))?.unit ?? column.unit}
                mayAct={mayAct}
                change={(answer) => change(column, answer)}
              />
            ))}
          </tbody>
        </table>
        {hidden > 0 && <p className="second small">{words.hidden(hidden)}</p>}
        <dl className="not-sent">
          <dt>{words.notSent}</dt>
          {missing.map((channel) => (
            <dd key={channel}>
              <b>
                <ChannelName text={takenWords[channel]} />
              </b>
              <span className="second">
                <ChannelName text={words.notSentWhy[channel]} />
              </span>
            </dd>
          ))}
          <dd>
            <b>{words.smoke}</b>
            <span className="second">{words.notSentWhy.smoke}</span>
          </dd>
        </dl>
      </div>
      <div className="line-legend">
        {(['sure', 'look', 'none'] as const).map((sureness) => (
          <span key={sureness}>
            <SurenessSign sureness={sureness} /> {words.legend[sureness]}
          </span>
        ))}
      </div>
      <div className="column-foot">
        <p className="grow">
          <b>{words.lookAt(looks.slice(0, 8))}</b>
          <br />
          <span className="second">{words.once(columns.length + hidden)}</span>
        </p>
        <span className="second small">
          {words.change} <kbd>1–9</kbd>
        </span>
        <button type="button" className="button" onClick={declined}>
          {words.noneFits} <kbd>0</kbd>
        </button>
        <button type="button" className="button main" disabled={!mayAct || used.length === 0} onClick={() => void use()}>
          {words.use(used.length)} <Key action="main" />
        </button>
      </div>
    </div>
  );
}

type RowProps = {
  column: ShownColumn;
  number: string;
  taken: ChannelId | 'none' | 'time';
  unit: SentUnit | undefined;
  mayAct: boolean;
  change: (answer: Answer) => void;
};

function ColumnRow({ column, number, taken, unit, mayAct, change }: RowProps) {
  const isLook = column.sureness === 'look';
  const why = [taken === column.taken ? whyTaken(column) : '', isLook ? whyOpen(column) : ''].filter((text) => text !== '').join('; ');
  const place = placeWord(column.at);
  return (
    <tr className={isLook ? 'look' : taken === 'none' || taken === 'time' ? 'unused' : ''}>
      <td>
        <SurenessSign sureness={column.sureness} />
        <span className="hidden-text">{words.legend[column.sureness]}</span>
      </td>
      <th scope="row">{number}</th>
      <td className="example">{column.name === '' ? '–' : column.name}</td>
      <td className="example">{column.unitText === '' ? '–' : column.unitText}</td>
      <td className="example">
        {column.examples.map((text, at) => (
          <span key={at} className={taken === 'none' ? '' : `span span-${taken}`}>
            {text}
          </span>
        ))}
      </td>
      <td>
        {taken === 'time' ? (
          <span className="second">{words.clock}</span>
        ) : (
          <>
            <select
              className="cell"
              aria-label={words.answerFor(place)}
              value={taken}
              disabled={!mayAct}
              onChange={(event) => change({ channel: event.target.value as ChannelId | 'none' })}
            >
              <option value="none">{words.notUsed}</option>
              {channelIds.map((channel) => (
                <option key={channel} value={channel}>
                  {takenWords[channel]}
                </option>
              ))}
            </select>
            {taken !== 'none' && (
              <select
                className="cell"
                aria-label={words.unitFor(place)}
                value={unit !== undefined && unitsFor(taken).includes(unit) ? unit : unitsFor(taken)[0]}
                disabled={!mayAct}
                onChange={(event) => change({ channel: taken, unit: event.target.value as SentUnit })}
              >
                {unitsFor(taken).map((one) => (
                  <option key={one} value={one}>
                    {recipeWords.units[one]}
                  </option>
                ))}
              </select>
            )}
          </>
        )}
      </td>
      <td>
        <ChannelName text={why} />
      </td>
      <td className="second">
        <ChannelName text={whyRuledOut(column)} />
      </td>
    </tr>
  );
}

/** Bar: sure. Diamond: look at it. Dash: not a channel. */
export function SurenessSign({ sureness }: { sureness: ShownColumn['sureness'] }) {
  return (
    <svg width="22" height="20" viewBox="0 0 22 20" aria-hidden="true">
      {sureness === 'sure' ? (
        <rect className="fill-accent" x="7" y="3" width="8" height="14" />
      ) : sureness === 'look' ? (
        <path className="stroke-notice" strokeWidth="3" fill="none" d="M11 2L19 10L11 18L3 10Z" />
      ) : (
        <path className="stroke-third" strokeWidth="3" d="M4 10H18" />
      )}
    </svg>
  );
}

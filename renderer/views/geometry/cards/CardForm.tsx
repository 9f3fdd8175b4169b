import type { ReactNode } from 'react';
import { arrangements, flowUnits, tubeEnds, type CardProblem, type FiguresCard } from '../../../../shared/geometry/figures-card.ts';
import { flowItems, itemNames } from '../../../../shared/geometry/items.ts';
import { geometryNames } from '../../../../shared/words/geometry/geometry.ts';
import { cardScreen as words } from '../../../../shared/words/geometry/geometry-cards.ts';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { optionsOf } from '../../../fields/KeptField.tsx';
import { emptyFigure, emptyFlowRow, forParts, type CardDraft, type FigureDraft, type FlowRowDraft } from './card-draft.ts';
import './CardForm.css';

type Props = { draft: CardDraft; problems: readonly CardProblem[]; readOnly: boolean; change: (draft: CardDraft) => void };

export function CardForm({ draft, problems, readOnly, change }: Props) {
  const { card } = draft;
  const set = (part: Partial<FiguresCard>): void => change({ ...draft, card: { ...card, ...part } });
  const source = (key: keyof FiguresCard['source'], label: string, width?: number) => (
    <Field
      label={label}
      width={width}
      numeric={false}
      disabled={readOnly}
      value={card.source[key] ?? ''}
      change={(text) => set({ source: { ...card.source, [key]: text } })}
    />
  );
  const toggled = <T extends string>(list: readonly T[], one: T, on: boolean): T[] =>
    on ? [...list, one] : list.filter((other) => other !== one);
  const badItems = new Set(problems.flatMap((problem) => ('item' in problem ? [problem.item] : [])));
  const badRows = new Set(problems.flatMap((problem) => ('rows' in problem ? problem.rows : 'row' in problem ? [problem.row] : [])));
  const holds = [
    { value: '', text: words.everyBurner },
    ...card.tubeEnds.map((one) => ({ value: `tubeEnd ${one}`, text: words.tubeEndNames[one] })),
    ...card.arrangements.map((one) => ({ value: `arrangement ${one}`, text: words.arrangementNames[one] })),
    ...draft.heads.split('\n').flatMap((line) => (line.trim() === '' ? [] : [{ value: `head ${line.trim()}`, text: line.trim() }])),
  ];
  const forName = ([key, value]: [string, string]): string => {
    const single = holds.find((one) => one.value === `${key} ${value}`);
    return single?.text ?? value;
  };
  const holdsText = (holdsFor: string): string =>
    holds.find(({ value }) => value === holdsFor)?.text ?? forParts(holdsFor).map(forName).join(', ');
  const setFigure = (at: number, part: Partial<FigureDraft>): void =>
    change({ ...draft, figures: draft.figures.map((one, index) => (index === at ? { ...one, ...part } : one)) });
  const setRow = (at: number, part: Partial<FlowRowDraft>): void =>
    change({ ...draft, rows: draft.rows.map((one, index) => (index === at ? { ...one, ...part } : one)) });
  // a card that is only read has no fields that cannot be pressed
  const cell = (label: string, value: string, set: (text: string) => void, isWrong = false) =>
    readOnly ? (
      <td className="card-read">{value}</td>
    ) : (
      <td>
        <div className={`field${isWrong ? ' wrong' : ''}`}>
          <input aria-label={label} value={value} autoComplete="off" spellCheck={false} onChange={(event) => set(event.target.value)} />
        </div>
      </td>
    );
  return (
    <div className="card-form">
      <div className="card-form-left">
        <h2>{words.where}</h2>
        <Field label={words.name} numeric={false} disabled={readOnly} value={card.name} change={(name) => set({ name })} />
        {source('document', words.document)}
        <div className="form-row">
          {source('edition', words.edition, 90)}
          {source('page', words.page, 90)}
          {source('date', words.date, 120)}
        </div>
        {source('typedBy', words.typedBy)}
        <h2>{words.which}</h2>
        <Choice
          label={words.unit}
          value={card.lengthUnit}
          change={(lengthUnit) => !readOnly && set({ lengthUnit })}
          options={optionsOf(words.units)}
        />
        <div>
          {tubeEnds.map((one) => (
            <Check
              key={one}
              label={words.tubeEndNames[one]}
              checked={card.tubeEnds.includes(one)}
              change={(on) => !readOnly && set({ tubeEnds: toggled(card.tubeEnds, one, on) })}
            />
          ))}
          {arrangements.map((one) => (
            <Check
              key={one}
              label={words.arrangementNames[one]}
              checked={card.arrangements.includes(one)}
              change={(on) => !readOnly && set({ arrangements: toggled(card.arrangements, one, on) })}
            />
          ))}
        </div>
        <Choice
          label={words.adjuster}
          value={card.adjuster?.steps ?? ''}
          change={(steps) => !readOnly && set({ adjuster: steps === '' ? undefined : { ...card.adjuster, steps } })}
          options={optionsOf(words.adjusters)}
        />
        {card.adjuster !== undefined && (
          <div className="form-row">
            <Field
              label={words.zeroMark}
              numeric={false}
              width={120}
              disabled={readOnly}
              value={card.adjuster.zeroMark ?? ''}
              change={(text) => card.adjuster && set({ adjuster: { ...card.adjuster, zeroMark: text === '' ? undefined : text } })}
            />
            {card.adjuster.steps === 'two' && (
              <Field
                label={words.fineNotches}
                width={120}
                disabled={readOnly}
                value={card.adjuster.fineNotches === undefined ? '' : String(card.adjuster.fineNotches)}
                change={(text) => {
                  const notches = Number(text.replace(/\D/g, '').slice(0, 2));
                  if (card.adjuster) set({ adjuster: { ...card.adjuster, fineNotches: notches > 0 ? notches : undefined } });
                }}
              />
            )}
          </div>
        )}
        <label className="field-label" htmlFor="card-heads">
          {words.headsField}
        </label>
        <textarea
          id="card-heads"
          rows={2}
          disabled={readOnly}
          value={draft.heads}
          onChange={(event) => change({ ...draft, heads: event.target.value })}
        />
      </div>
      <div className="card-form-middle">
        <h2>{words.figures}</h2>
        <table className="card-figures" tabIndex={0} aria-label={words.figures}>
          <thead>
            <tr>
              {(['item', 'for', 'nominal', 'tolerance', 'low', 'high'] as const).map((key) => (
                <th key={key} scope="col">
                  {words.columns[key]}
                </th>
              ))}
              <th scope="col">
                <span className="hidden-text">{words.removeRow}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {draft.figures.map((figure, at) => {
              const name = geometryNames[figure.item];
              const isWrong = badItems.has(figure.item);
              return (
                <tr key={at}>
                  <td>
                    {readOnly ? (
                      <b>{name}</b>
                    ) : (
                      <Choice
                        bare
                        label={words.columns.item}
                        value={figure.item}
                        change={(item) => setFigure(at, { item })}
                        options={itemNames.map((item) => ({ value: item, text: geometryNames[item] }))}
                      />
                    )}
                  </td>
                  <td>
                    {readOnly ? (
                      <span className="second">{holdsText(figure.holdsFor)}</span>
                    ) : (
                      <Choice
                        bare
                        label={`${name}, ${words.columns.for}`}
                        value={figure.holdsFor}
                        change={(holdsFor) => setFigure(at, { holdsFor })}
                        options={
                          holds.some(({ value }) => value === figure.holdsFor)
                            ? holds
                            : [...holds, { value: figure.holdsFor, text: holdsText(figure.holdsFor) }]
                        }
                      />
                    )}
                  </td>
                  {(['nominal', 'tolerance', 'low', 'high'] as const).map((part) => (
                    <Cell key={part}>
                      {cell(`${name}, ${words.columns[part]}`, figure[part], (text) => setFigure(at, { [part]: text }), isWrong)}
                    </Cell>
                  ))}
                  <td>
                    {!readOnly && (
                      <TakeOut name={name} run={() => change({ ...draft, figures: draft.figures.filter((_, index) => index !== at) })} />
                    )}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
        {!readOnly && (
          <button
            type="button"
            className="button"
            onClick={() =>
              change({
                ...draft,
                figures: [
                  ...draft.figures,
                  emptyFigure(itemNames.find((item) => !draft.figures.some((one) => one.item === item)) ?? itemNames[0]),
                ],
              })
            }
          >
            {words.addFigure}
          </button>
        )}
        <h2>{words.byFlow}</h2>
        <Choice
          label={words.flowUnit}
          width={150}
          value={card.byFlow?.unit ?? 'gph'}
          change={(unit) => !readOnly && set({ byFlow: { rows: [], ...card.byFlow, unit } })}
          options={flowUnits.map((value) => ({ value, text: value }))}
        />
        <table className="card-figures" tabIndex={0} aria-label={words.byFlow}>
          <thead>
            <tr>
              {(['from', 'to', ...flowItems] as const).map((key) => (
                <th key={key} scope="col">
                  {words.flowColumns[key]}
                </th>
              ))}
              <th scope="col">
                <span className="hidden-text">{words.removeRow}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {draft.rows.map((row, at) => (
              <tr key={at} className={badRows.has(at) ? 'bad-row' : undefined}>
                {(['from', 'to', ...flowItems] as const).map((key) => (
                  <Cell key={key}>
                    {cell(
                      `${words.byFlow} ${at + 1}, ${words.flowColumns[key]}`,
                      row[key],
                      (text) => setRow(at, { [key]: text }),
                      badRows.has(at) || (key !== 'from' && key !== 'to' && row[key].trim() !== '' && badItems.has(key)),
                    )}
                  </Cell>
                ))}
                <td>
                  {!readOnly && (
                    <TakeOut name={String(at + 1)} run={() => change({ ...draft, rows: draft.rows.filter((_, index) => index !== at) })} />
                  )}
                </td>
              </tr>
            ))}
            <tr>
              <td colSpan={2} className="second right">
                {words.plusMinus}
              </td>
              {flowItems.map((item) => (
                <Cell key={item}>
                  {cell(
                    `${words.flowColumns[item]}, ${words.plusMinus}`,
                    draft.tolerance[item],
                    (text) => change({ ...draft, tolerance: { ...draft.tolerance, [item]: text } }),
                    draft.tolerance[item].trim() !== '' && badItems.has(item),
                  )}
                </Cell>
              ))}
              <td />
            </tr>
          </tbody>
        </table>
        {!readOnly && (
          <button type="button" className="button" onClick={() => change({ ...draft, rows: [...draft.rows, emptyFlowRow()] })}>
            {words.addRow}
          </button>
        )}
        <p className="small second">{words.startNote}</p>
      </div>
    </div>
  );
}

const TakeOut = ({ name, run }: { name: string; run: () => void }) => (
  <button type="button" className="button quiet" aria-label={`${words.removeRow}: ${name}`} onClick={run}>
    ×
  </button>
);

const Cell = ({ children }: { children: ReactNode }) => children;

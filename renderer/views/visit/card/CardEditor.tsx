import { useState } from 'react';
import { decisionRules } from '../../../../shared/measurement/decision-rule.ts';
import { TargetCard, cardQuantityNames, type CardQuantity } from '../../../../shared/tuning/card/target-card.ts';
import { decisionRuleWords, quantityWords } from '../../../../shared/words/visit/target-card.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { useParts } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { cardShape } from '../../../../shared/report/card-format.ts';
import { errorOf, typedPlain, valueOf } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import './card.css';

type Line = { quantity: CardQuantity; low: string; high: string; source: string; rest: TargetCard['lines'][number] | undefined };

const written = (value: number | undefined, factor: number, offset: number): string =>
  value === undefined ? '' : String(Number((value * factor + offset).toFixed(3)));

/** Limits with where they come from; nobody else's card is changed by it. */
export function CardEditor({ card, close }: { card: TargetCard; close: () => void }) {
  const { actions } = useParts();
  const { units, may, edit } = useVisit();
  const [name, setName] = useState(card.name);
  const [date, setDate] = useState(card.date);
  const [source, setSource] = useState(card.source);
  const [rule, setRule] = useState(card.decisionRule);
  const [lines, setLines] = useState<readonly Line[]>(
    card.lines.map((line) => {
      const { factor, offset } = cardShape(line.quantity, units);
      return {
        quantity: line.quantity,
        low: written(line.low, factor, offset),
        high: written(line.high, factor, offset),
        source: line.source,
        rest: line,
      };
    }),
  );
  const [later, setLater] = useState(false);
  const [refused, setRefused] = useState<string>();
  const change = (at: number, part: Partial<Line>): void =>
    setLines(lines.map((line, index) => (index === at ? { ...line, ...part } : line)));
  const submit = (): void => {
    if (!/^\d{4}(-\d{2}(-\d{2})?)?$/.test(date.trim())) return setRefused(words.wrongDate);
    // a limit that cannot be read is not left out: it would be gone from the card without a word
    const wrong = lines
      .flatMap(({ low, high }) => [low, high].map((text) => errorOf(typedPlain(text))))
      .find((error) => error !== undefined);
    if (wrong !== undefined) return setRefused(wrong);
    const limits = lines.map((line) => {
      const { factor, offset } = cardShape(line.quantity, units);
      const inner = (text: string): number | undefined => {
        const typed = valueOf(typedPlain(text));
        return typed === undefined ? undefined : (typed - offset) / factor;
      };
      const same = line.rest?.quantity === line.quantity ? { appliesTo: line.rest.appliesTo, highExcluded: line.rest.highExcluded } : {};
      return { quantity: line.quantity, low: inner(line.low), high: inner(line.high), source: line.source.trim(), ...same };
    });
    const checked = TargetCard.safeParse({
      ...card,
      name: name.trim(),
      date: date.trim(),
      source: source.trim(),
      kind: card.kind,
      decisionRule: rule,
      lines: limits,
    });
    if (!checked.success) return setRefused(words.wrongLine);
    const why = edit({ path: ['targetCard'], after: checked.data });
    if (why !== undefined) return setRefused(why);
    if (later) void actions.ask('document.save', { kind: 'target-card', body: JSON.parse(JSON.stringify(checked.data)) as never });
    close();
  };
  return (
    <Dialog
      title={words.editTitle}
      close={close}
      submit={submit}
      wide
      foot={
        <DialogFoot
          main={words.keepCard}
          off={!may}
          says={
            <span className="grow field-error" role="alert">
              {refused}
            </span>
          }
        >
          <Check label={words.keepForLater} checked={later} change={setLater} />
        </DialogFoot>
      }
    >
      <div className="choice-row">
        <div style={{ flex: 1, minWidth: 240 }}>
          <Field label={words.cardName} value={name} change={setName} numeric={false} first />
        </div>
        <Field label={words.cardDate} value={date} change={setDate} numeric={false} width={150} />
        <Choice
          label={words.decision}
          value={rule}
          change={setRule}
          width={240}
          options={decisionRules.map((value) => ({ value, text: decisionRuleWords[value].name }))}
        />
      </div>
      <p className="second small">{decisionRuleWords[rule].about}</p>
      <Field label={words.cardSource} value={source} change={setSource} numeric={false} long />
      <table className="card-lines" aria-label={words.card}>
        <thead>
          <tr>
            <th scope="col">{words.columns.line}</th>
            <th scope="col">{words.low}</th>
            <th scope="col">{words.high}</th>
            <th scope="col">{words.lineSource}</th>
            <th scope="col">
              <span className="hidden-text">{words.remove}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line, at) => {
            const { unit } = cardShape(line.quantity, units);
            return (
              <tr key={at}>
                <td data-column={words.columns.line}>
                  <Choice
                    bare
                    label={words.columns.line}
                    value={line.quantity}
                    change={(quantity) => change(at, { quantity })}
                    options={cardQuantityNames.map((value) => ({ value, text: quantityWords[value] }))}
                  />
                </td>
                {(['low', 'high'] as const).map((end) => (
                  <td key={end} data-column={words[end]}>
                    <Field
                      label={`${quantityWords[line.quantity]}, ${words[end]}`}
                      bare
                      value={line[end]}
                      change={(text) => change(at, { [end]: text })}
                      unit={unit}
                      error={errorOf(typedPlain(line[end]))}
                    />
                  </td>
                ))}
                <td data-column={words.lineSource}>
                  <Field
                    label={`${quantityWords[line.quantity]}, ${words.lineSource}`}
                    bare
                    long
                    numeric={false}
                    value={line.source}
                    change={(text) => change(at, { source: text })}
                  />
                </td>
                <td>
                  <button type="button" className="button" onClick={() => setLines(lines.filter((_, index) => index !== at))}>
                    {words.remove}
                  </button>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <div>
        <button
          type="button"
          className="button"
          onClick={() => setLines([...lines, { quantity: 'o2Percent', low: '', high: '', source: source, rest: undefined }])}
        >
          {words.add}
        </button>
      </div>
    </Dialog>
  );
}

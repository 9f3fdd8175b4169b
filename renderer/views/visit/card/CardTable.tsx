import { cardFigureText, cardUnit, lineLimitText } from '../../../../shared/report/card-format.ts';
import { scalePicture } from '../../../../shared/report/card-table.ts';
import { cardQuantities, overallVerdict, type LineVerdict } from '../../../../shared/tuning/card/target-card.ts';
import { cardHeadline, decisionRuleWords, quantityWords, verdictNote, verdictWords } from '../../../../shared/words/visit/target-card.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { VerdictScale } from '../../../../shared/report/drawings/VerdictScale.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { useNarrow } from '../../../look/use-wide.ts';
import { useVisit } from '../use-visit.ts';
import { withUnit, type UnitSystem } from '../../../../shared/format/quantity.ts';
import '../visit.css';
import './card.css';

/** The card, its rule and what it says over all; or that there is none. */
export function CardHead({ verdicts, open }: { verdicts: readonly LineVerdict[]; open: (window: 'choose' | 'edit') => void }) {
  const { visit, may, put } = useVisit();
  const card = visit.targetCard;
  const overall = verdicts.length === 0 ? undefined : overallVerdict(verdicts);
  return (
    <div className="card-head">
      <div className="grow">
        <h2>
          {overall !== undefined && (
            <span className="verdict">
              <VerdictSign verdict={overall} />
              <span>
                <ChannelName text={cardHeadline(overall, verdicts)} />
              </span>
            </span>
          )}
          {overall === undefined && words.card}
        </h2>
        <p className="second">
          {card === undefined
            ? visit.withoutCard === true
              ? words.withoutSaid
              : words.noCard
            : `${words.ofCard(card.name, card.date)} · ${words.rule(decisionRuleWords[card.decisionRule].name)}`}
        </p>
      </div>
      {card === undefined && visit.withoutCard !== true && (
        <button type="button" className="button" disabled={!may} onClick={() => put({ path: ['withoutCard'], after: true })}>
          {words.without}
        </button>
      )}
      {card !== undefined && (
        <button type="button" className="button" disabled={!may} onClick={() => open('edit')}>
          {words.edit}
        </button>
      )}
      <button type="button" className="button" disabled={!may} onClick={() => open('choose')}>
        {visit.withoutCard === true ? words.takeBack : words.pick}
      </button>
    </div>
  );
}

/** Line by line: figure, limit and where it is from, scale, verdict. */
export function CardTable({ verdicts, units }: { verdicts: readonly LineVerdict[]; units: UnitSystem }) {
  const isNarrow = useNarrow();
  return (
    // a table that is moved sideways can be reached by keys
    <table className="card-table" aria-label={words.card} tabIndex={isNarrow ? 0 : undefined}>
      <thead>
        <tr>
          <th scope="col">{words.columns.line}</th>
          <th scope="col" className="right">
            {words.columns.value}
          </th>
          <th scope="col">{words.columns.limit}</th>
          <th scope="col">{words.columns.scale}</th>
          <th scope="col">{words.columns.verdict}</th>
        </tr>
      </thead>
      <tbody>
        {verdicts.map((verdict, at) => {
          const { line, figure } = verdict;
          const text = cardFigureText(line.quantity, figure, units);
          const note = verdictNote(verdict);
          return (
            <tr key={at}>
              <th scope="row">
                <ChannelName text={quantityWords[line.quantity]} />
                <span className="basis">
                  <ChannelName text={cardQuantities[line.quantity].basis} />
                </span>
              </th>
              <td className="number right">
                {text === undefined ? (
                  '–'
                ) : (
                  <>
                    {text.value} <span className="plus-minus">{text.half}</span>{' '}
                    <span className="unit">{cardUnit(line.quantity, units)}</span>
                  </>
                )}
              </td>
              <td>
                {withUnit(lineLimitText(line, units), cardUnit(line.quantity, units))}
                <span className="basis">
                  <ChannelName text={[pageUnbroken(line.source), line.appliesTo ?? ''].filter((part) => part !== '').join('; ')} />
                </span>
              </td>
              <td>
                {figure !== undefined && line.quantity !== 'oilTrace' && (
                  <VerdictScale picture={{ ...scalePicture(verdict, figure), label: '' }} width={128} />
                )}
              </td>
              <td>
                <span className="verdict">
                  <VerdictSign verdict={verdict.verdict} />
                  <b>{verdictWords[verdict.verdict]}</b>
                </span>
                {note !== undefined && (
                  <span className="basis">
                    <ChannelName text={note} />
                  </span>
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** 'p 153' stays in one line */
const pageUnbroken = (source: string): string => source.replace(/\b(pp?) (?=\d)/g, '$1\u00a0');

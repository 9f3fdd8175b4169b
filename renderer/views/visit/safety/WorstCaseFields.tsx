/** What the worst-case test came to, figures typed by hand, and the rule that judges them. */
import type { Output } from '../../../../shared/ipc/contract.ts';
import { worstFigure, worstLimit, worstUnit } from '../../../../shared/report/worst-figures.ts';
import { VerdictSign, type SignName } from '../../../../shared/report/drawings/VerdictSign.tsx';
import {
  worstQuantities,
  type WorstCase,
  type WorstLine,
  type WorstQuantity,
  type WorstRule,
} from '../../../../shared/tuning/safety/venting.ts';
import { ventWords as words } from '../../../../shared/words/visit/venting.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { KeptField } from '../../../fields/KeptField.tsx';
import { plainText, typedPlain, typedQuantity } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import '../visit.css';
import './safety.css';

type Trace = Output<'visit.ventTrace'>;

const sign = { pass: 'pass', fail: 'fail', 'too-close': 'too-close', 'no-limit': 'open', 'not-measured': 'open' } as const satisfies Record<
  WorstLine['verdict'],
  SignName
>;

export function WorstTable({ lines }: { lines: readonly WorstLine[] }) {
  const { units } = useVisit();
  return (
    <table className="since-table vent-table" aria-label={words.worst}>
      <thead>
        <tr>
          <td />
          <th scope="col" className="right">
            {words.columns.off}
          </th>
          <th scope="col" className="right">
            {words.columns.on}
          </th>
          <th scope="col" className="right">
            {words.columns.change}
          </th>
          <th scope="col">{words.columns.rule}</th>
          <th scope="col">{words.columns.verdict}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => {
          const write = (inner: number): string => worstFigure(line.quantity, inner, units);
          const half = line.changeHalf ?? 0;
          return (
            <tr key={line.quantity}>
              <th scope="row">
                <ChannelName text={words.quantities[line.quantity]} />
                <span className="basis">{worstUnit(line.quantity, units)}</span>
              </th>
              <td className="number right second">{line.off === undefined ? words.notSent : write(line.off.mean)}</td>
              <td className="number right bold">{line.on === undefined ? '–' : write(line.on.mean)}</td>
              <td className="number right">
                {line.change === undefined ? (
                  '–'
                ) : Math.abs(line.change) <= half ? (
                  words.within(write(half))
                ) : (
                  <>
                    {write(line.change)} <span className="plus-minus">±{write(half)}</span>
                  </>
                )}
              </td>
              <td>
                {worstLimit(line, units)}
                <span className="basis">{line.source}</span>
              </td>
              <td>
                <span className="verdict">
                  <VerdictSign verdict={sign[line.verdict]} /> {words.verdicts[line.verdict]}
                </span>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** What the instrument does not send is read from the gauge and typed, for each phase. */
export function TypedFigures({
  test,
  sent,
  put,
}: {
  test: WorstCase;
  sent: Trace | undefined;
  put: (test: WorstCase) => string | undefined;
}) {
  const { units, may } = useVisit();
  const phase = test.onFromMs === undefined ? ('off' as const) : ('on' as const);
  const asked = (['draftPa', 'roomCoPpm'] as const).filter((quantity) => sent !== undefined && sent[phase]?.[quantity] === undefined);
  if (asked.length === 0) return null;
  return (
    <div className="form-row">
      {asked.map((quantity) => (
        <KeptField
          key={`${phase}-${quantity}`}
          name={`vent-${phase}-${quantity}`}
          label={`${words.quantities[quantity]}, ${words.typeFields[phase]}`}
          width={250}
          unit={worstUnit(quantity, units)}
          disabled={!may}
          shown={test[phase]?.[quantity] === undefined ? '' : worstFigure(quantity, test[phase][quantity].mean, units).replace('−', '-')}
          parse={(text) => (quantity === 'draftPa' ? typedQuantity(text, 'draft', units) : typedPlain(text))}
          keep={(mean) => {
            const { [quantity]: _gone, ...rest } = test[phase] ?? {};
            return put({
              ...test,
              [phase]: mean === undefined ? rest : { ...rest, [quantity]: { mean, half: 0, seconds: 0, typed: true } },
            });
          }}
        />
      ))}
    </div>
  );
}

const ruleKeys = {
  draftPa: ['draftHighPa', 'draftSource'],
  o2Percent: ['o2DropMost', 'o2Source'],
  roomCoPpm: ['roomCoBelowPpm', 'roomCoSource'],
} as const satisfies Record<WorstQuantity, readonly [keyof WorstRule, keyof WorstRule]>;

/** A limit counts with its source only. */
export function RuleFields({ rule, keep }: { rule: WorstRule; keep: (rule: WorstRule) => string | undefined }) {
  const { units, may } = useVisit();
  return (
    <details className="vent-rule">
      <summary>{words.rule}</summary>
      {worstQuantities.map((quantity) => {
        const [limitKey, sourceKey] = ruleKeys[quantity];
        const limit = rule[limitKey];
        const put = (key: keyof WorstRule, value: number | string | undefined): string | undefined => {
          const { [key]: _gone, ...rest } = rule;
          return keep(value === undefined ? rest : { ...rest, [key]: value });
        };
        return (
          <div className="form-row" key={quantity}>
            <KeptField
              name={`vent-${limitKey}`}
              label={words.ruleFields[quantity]}
              width={250}
              unit={worstUnit(quantity, units)}
              disabled={!may}
              shown={limit === undefined ? '' : worstFigure(quantity, limit, units).replace('−', '-')}
              parse={(text) => (quantity === 'draftPa' ? typedQuantity(text, 'draft', units) : typedPlain(text))}
              keep={(value) => put(limitKey, value === undefined ? undefined : quantity === 'draftPa' ? -Math.abs(value) : value)}
            />
            <KeptField
              name={`vent-${sourceKey}`}
              label={words.source(words.quantities[quantity])}
              numeric={false}
              long
              width={320}
              disabled={!may}
              hint={limit !== undefined && (rule[sourceKey] ?? '') === '' ? words.noSource : undefined}
              shown={rule[sourceKey] ?? ''}
              parse={plainText}
              keep={(text) => put(sourceKey, text?.slice(0, 200))}
            />
          </div>
        );
      })}
    </details>
  );
}

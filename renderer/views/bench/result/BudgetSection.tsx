import type { GasRow } from '../../../../shared/bench/results/test-result.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { unitText } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import './result.css';

const words = benchResult;

/** What the uncertainty of the chosen row is made of, largest part first. */
export function BudgetSection({ row, gas }: { row: GasRow; gas: string }) {
  const { contributions, combined, expanded } = row.budget;
  const text = (u: number): string => unitText(row.channel, formatNumber(u, row.channel === 'o2' || row.channel === 'co2' ? 3 : 2));
  const lines = [
    ...[...contributions].sort((a, b) => b.u - a.u).map(({ key, u }) => ({ name: words.contributions[key], u, total: false })),
    { name: words.combined, u: combined, total: false },
    { name: words.expandedU, u: expanded, total: true },
  ];
  return (
    <section aria-label={words.budget}>
      <h3>
        <ChannelName text={words.budgetOf(bench.channels[row.channel], gas)} />
      </h3>
      <ul className="bench-budget">
        {lines.map(({ name, u, total }) => (
          <li key={name}>
            <span className="small">{name}</span>
            <svg width="100%" height="12" aria-hidden="true" preserveAspectRatio="none" viewBox="0 0 100 12">
              <rect className={total ? 'fill-accent' : 'fill-second'} width={expanded > 0 ? (100 * u) / expanded : 0} height="12" />
            </svg>
            <span className="small right unwrapped">{text(u)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

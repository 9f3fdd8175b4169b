import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { bench } from '../../../shared/words/bench/bench.ts';
import { Switch } from '../../components/Switch.tsx';

/** The instruments of one session, in the same order whichever is looked at. */
export function InstrumentSwitch({
  tests,
  at,
  change,
}: {
  tests: readonly { id: string; body: BenchTest }[];
  at: string;
  change: (id: string) => void;
}) {
  const inOrder = tests
    .map(({ id, body }) => ({ value: id, text: body.instrument.name }))
    .sort((a, b) => a.text.localeCompare(b.text, 'en', { numeric: true }));
  return <Switch label={bench.run.instruments} value={at} change={change} options={inOrder} />;
}

import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { benchRun } from '../../../shared/words/bench/bench-run.ts';
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
  return <Switch label={benchRun.instruments} value={at} change={change} options={inOrder} />;
}

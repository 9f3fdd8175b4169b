import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { Instrument } from '../../../../shared/bench/instrument.ts';

export type Tested = { readonly id: string; readonly test: BenchTest };
/** An instrument with its tests, newest first. */
export type Known = { readonly id: string; readonly instrument: Instrument; readonly tests: readonly Tested[] };

/** Are the patterns of the simulated faults seen, and is a healthy burner left in peace? */
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';
import { diagnose } from '../../shared/tuning/diagnosis/diagnose.ts';
import type { Hint, PatternKey } from '../../shared/tuning/diagnosis/patterns.ts';
import { setUpBurner, takeTrial, wait, type Bench } from './tuning-technician.ts';

/** Which pattern tells which scenario, fixed by what the scenario says about itself. More than one name: either is right. */
const expected: Record<string, readonly PatternKey[]> = {
  'cold-start': ['slow-warm-up'],
  purge: ['purge'],
  unplug: ['gap'],
  'slow-cell': ['slow-cell'],
  // smoke and CO together with plenty of air have a pattern of their own, with a worn nozzle among what may cause it
  'worn-nozzle': ['chilled-and-smoky', 'smoke-with-air', 'late-onset'],
  'low-pressure': ['pressure-off'],
  flutter: ['flutter'],
  'creeping-co': ['creeping-co'],
  'after-drip': ['after-drip'],
  'air-leak': ['dilution'],
  'sooted-exchanger': ['hot-stack-high-drop'],
  'falling-draft': ['draft-falling'],
  'depressurised-room': ['draft-step'],
  'zeroed-in-bad-air': ['negative-co'],
};

const NOMINAL_PUMP_PA = 690_000;
const LENGTH_S = 1150;

export const hintsNow = (bench: Bench): Hint[] =>
  diagnose({
    samples: bench.samples,
    adjustmentsMs: bench.adjustmentsMs,
    trials: bench.trials,
    judgedIds: bench.trials.slice(0, 1).map((trial) => trial.id),
    earlier: [],
    pumpPressureWantedPa: NOMINAL_PUMP_PA,
  });

/** As found and hands off: a trial when the stack has come to rest, then only watching. */
function watch(scenario: string, seed: number): Hint[] {
  const bench = setUpBurner(scenario, seed);
  const found = findScenario(scenario);
  const warm = found.ok && found.value.beforeS > 0;
  takeTrial(bench, { waitS: warm ? 60 : 500, spots: 3 });
  wait(bench, LENGTH_S - bench.nowMs / 1000);
  return hintsNow(bench);
}

const names = (hints: readonly Hint[]): string =>
  hints.map(({ pattern, strength }) => `${pattern} ${strength.toFixed(2)}`).join(', ') || 'none';

export function scoreHints(firstSeed: number, count: number, verbose: boolean): void {
  console.log(`hints, seeds ${firstSeed}-${firstSeed + count - 1}: scenarios whose pattern is among the first two (goal 9 of 10 each)`);
  for (const [scenario, patterns] of Object.entries(expected)) {
    const runs = Array.from({ length: count }, (_, index) => watch(scenario, firstSeed + index));
    const right = runs.filter((hints) => hints.slice(0, 2).some(({ pattern }) => patterns.includes(pattern))).length;
    const first = runs.filter((hints) => hints[0] !== undefined && patterns.includes(hints[0].pattern)).length;
    console.log(`  ${scenario.padEnd(20)} ${right} of ${count}   first ${first}   ${patterns.join(' or ')}`);
    if (verbose) runs.forEach((hints, index) => console.log(`      ${firstSeed + index}: ${names(hints)}`));
  }
  const healthy = Array.from({ length: 2 * count }, (_, index) => watch('tune-up', firstSeed + index));
  console.log(
    `  healthy, hands off   ${healthy.filter((hints) => hints.length > 0).length} of ${healthy.length} with a hint   (goal at most 1 of 20)`,
  );
  if (verbose) healthy.forEach((hints, index) => hints.length > 0 && console.log(`      ${firstSeed + index}: ${names(hints)}`));
}

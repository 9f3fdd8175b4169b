/**
 * Are faulty instruments found, and healthy ones left alone? Every simulated instrument goes through one round of gases as a bench would do it.
 * Limits of the healthy check: CO as in service (OIML R 144-1), O2 by US EPA CTM-030.
 */
import { evaluate, type Evaluation, type Reference } from '../../shared/bench/results/evaluate.ts';
import { faultsOf, type FaultPattern } from '../../shared/bench/results/faults.ts';
import { exampleLimits, type BenchLimits } from '../../shared/bench/limits.ts';
import { createRecogniser } from '../../shared/bench/session/recognise.ts';
import { createBurner } from '../../shared/burner/burner.ts';
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';

/** CO as in service (OIML R 144-1), O2 by span error (US EPA CTM-030). */
const inService: BenchLimits = {
  format: 1,
  name: 'in service',
  date: '2013',
  decisionRule: 'simple',
  lines: [...(exampleLimits[1]?.lines ?? []), ...(exampleLimits[2]?.lines.filter(({ channel }) => channel === 'o2') ?? [])],
};

const gas = (key: string, o2: number, co: number, extra: Partial<Reference> = {}): Reference => ({
  key,
  components: { o2: { value: o2, expanded: 0.01 * o2 }, co: { value: co, expanded: 0.01 * co } },
  ...extra,
});
const references: readonly Reference[] = [
  gas('fresh air', 20.946, 0, { freshAir: true }),
  gas('nitrogen', 0, 0),
  gas('co-100', 4, 100),
  gas('co-200', 4, 200),
  gas('co-400', 4, 400),
  gas('co-1000', 4, 1000),
  gas('h2-400', 4, 0, { hydrogenPpm: 400 }),
];

/** The plan says which gas comes next; the operator marks when it was switched. */
function levelOf(value: unknown): string {
  const { o2Percent, coPpm = 0, h2Ppm = 0 } = value as { o2Percent: number; coPpm?: number; h2Ppm?: number };
  if (h2Ppm > 0) return 'h2-400';
  if (coPpm > 0) return `co-${coPpm}`;
  return o2Percent > 20 ? 'fresh air' : 'nitrogen';
}

function benchRound(scenarioName: string, seed: number): Evaluation {
  const scenario = findScenario(scenarioName);
  if (!scenario.ok) throw new Error(scenario.error.detail);
  const burner = createBurner({ scenario: scenario.value, seed, shape: 'columns' });
  const levels = references.map(({ key, components }) => ({
    key,
    values: { o2: components.o2?.value ?? 0, co: components.co?.value ?? 0 },
  }));
  const recogniser = createRecogniser({ channels: ['o2', 'co'], levels });
  const marks = scenario.value.events.flatMap((event) =>
    'part' in event && event.part === 'inlet' ? [{ ms: Number(event.atS) * 1000, level: levelOf(event.value) }] : [],
  );
  for (const { timeMs, text } of burner.advanceTo((marks.at(-1)?.ms ?? 0) + 240_000)) {
    for (let next = marks[0]; next !== undefined && next.ms <= timeMs; next = marks[0]) {
      recogniser.mark(next.ms, next.level);
      marks.shift();
    }
    const [, o2, co] = text.split(',');
    const values = Object.fromEntries(
      Object.entries({ o2, co }).flatMap(([key, field]) =>
        field !== undefined && field.trim() !== '' && Number.isFinite(Number(field)) ? [[key, Number(field)]] : [],
      ),
    );
    if (Object.keys(values).length > 0) recogniser.push({ timeMs, values });
  }
  return evaluate({ applications: recogniser.applications(), references, limits: inService });
}

const wanted: Record<string, readonly FaultPattern[]> = {
  'drifting-zero': ['drifting-zero'],
  'low-span': ['low-span'],
  'clogged-filter': ['slow-hose', 'slow-cell'],
  'cross-sensitive-co': ['cross-sensitive'],
  'non-linear-co': ['non-linear'],
  'slow-co-cell': ['slow-cell'],
};

export function scoreBench(print: (text: string) => void): void {
  print('simulated instrument     fault named first   seeds 7100-7109');
  for (const [name, patterns] of Object.entries(wanted)) {
    let found = 0;
    const misses: string[] = [];
    for (let seed = 7100; seed < 7110; seed++) {
      const first = faultsOf(benchRound(name, seed))[0];
      if (first !== undefined && patterns.includes(first.pattern)) found++;
      else misses.push(first === undefined ? 'none' : `${first.pattern} ${first.channel} ${first.size.toFixed(3)}`);
    }
    print(`${name.padEnd(24)} ${String(found).padStart(2)} of 10   goal 9   ${misses.join('; ')}`);
  }
  let failed = 0;
  let hinted = 0;
  const why: string[] = [];
  for (let seed = 7200; seed < 7300; seed++) {
    const evaluation = benchRound('bench-healthy', seed);
    if (evaluation.verdict === 'fail') {
      failed++;
      why.push(
        ...evaluation.channels.flatMap(({ channel, errors, linearity, drifts }) => [
          ...errors
            .filter(({ verdict }) => verdict === 'fail')
            .map(({ level, error }) => `${seed} ${channel} ${level} ${error.toFixed(2)}`),
          ...(linearity?.verdict === 'fail' ? [`${seed} ${channel} linearity ${linearity.worstPercentOfSpan.toFixed(2)}`] : []),
          ...drifts
            .filter(({ verdict }) => verdict === 'fail')
            .map(({ level, value }) => `${seed} ${channel} drift ${level} ${value.toFixed(2)}`),
        ]),
      );
    }
    if (faultsOf(evaluation).length > 0) hinted++;
  }
  print(`healthy failed           ${failed} of 100   goal at most 1; fault patterns named for ${hinted}`);
  for (const line of why.slice(0, 10)) print(`  ${line}`);
}

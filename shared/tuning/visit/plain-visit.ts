/** A visit in plain JSON, as scripts and classrooms write one: turned into the trials that Tune itself reads. Absent is absent. */
import { z } from 'zod';
import { fuelIds, findFuel } from '../../combustion/fuel.ts';
import { fromHalfWidth } from '../../combustion/figures/uncertainty.ts';
import { defaultTolerances, toleranceAt } from '../../measurement/limits.ts';
import { problem, type Problem } from '../../problem.ts';
import { err, ok, type Result } from '../../result.ts';
import { adjusterKinds, type Adjuster } from '../trial/adjuster.ts';
import type { AdviceFacts } from '../advice/advice.ts';
import { O2_FLOOR_PERCENT, flueCoDefaults } from '../advice/cautions.ts';
import { SMOKE_LIMIT } from '../advice/limits-in-force.ts';
import type { SafeFacts } from '../advice/safe.ts';
import type { Trial } from '../trial/trial.ts';
import { tuningTexts } from '../../words/core/tuning.ts';
import { defined } from '../../defined.ts';

const number = z.number().min(-1e6).max(1e6);
const maybe = <T extends z.ZodType>(schema: T) => schema.nullish().transform((value) => value ?? undefined);

const PlainVisit = z.object({
  fuel: maybe(z.string().max(60)),
  flame: maybe(z.enum(['yellow', 'blue'])),
  adjusters: z
    .array(
      z.object({
        name: z.string().min(1).max(40),
        kind: maybe(z.enum(adjusterKinds)),
        min: maybe(number),
        max: maybe(number),
        step: maybe(z.number().positive().max(1e6)),
        role: maybe(z.enum(['coarse', 'fine'])),
        more_air: maybe(z.enum(['up', 'down'])),
      }),
    )
    .max(12)
    .nullish()
    .transform((value) => value ?? []),
  trials: z
    .array(
      z.object({
        setting: z
          .record(z.string().min(1).max(40), number.nullable())
          .nullish()
          .transform((value) => value ?? {}),
        stage: maybe(z.string().max(40)),
        o2_pct: maybe(number),
        co_ppm: maybe(number),
        smoke: maybe(z.number().min(0).max(9)),
        oil: maybe(z.boolean()),
        settled: maybe(z.boolean()),
      }),
    )
    .max(500)
    .nullish()
    .transform((value) => value ?? []),
  as_left: maybe(z.number().int().nonnegative()),
  alarm_co_air_free_ppm: maybe(z.number().positive().max(1e6)),
  o2_floor_pct: maybe(z.number().min(0).max(15)),
  smoke_limit: maybe(z.number().min(0).max(9)),
  room_co_ppm: maybe(z.number().min(0).max(1e6)),
  safety: maybe(z.array(z.object({ test: z.string().max(60), result: z.enum(['pass', 'fail', 'na', 'open']) })).max(60)),
  bypass_in_place: maybe(z.boolean()),
});
type PlainVisit = z.infer<typeof PlainVisit>;

const STEPS_ON_A_SCALE = 40;

export type PlainFacts = { advice: AdviceFacts; safe: SafeFacts };

export function readPlainVisit(json: unknown): Result<PlainFacts, Problem> {
  const read = PlainVisit.safeParse(json);
  if (!read.success) {
    const [issue] = read.error.issues;
    const isBeyond = issue?.code === 'too_big' || issue?.code === 'too_small';
    return err(problem(isBeyond ? 'value-out-of-range' : 'visit-not-clear', `${issue?.path.join('.') ?? ''}: ${issue?.message ?? ''}`));
  }
  const visit = read.data;
  const names = visit.adjusters.map(({ name }) => name);
  if (new Set(names).size < names.length) return err(problem('visit-not-clear', tuningTexts.sameName));
  const wrong = visit.adjusters.find(({ min, max }) => min !== undefined && max !== undefined && min > max);
  if (wrong) return err(problem('visit-not-clear', tuningTexts.scaleEmpty(wrong.name)));
  if (visit.fuel !== undefined && findFuel(visit.fuel) === undefined)
    return err(problem('fuel-unknown', tuningTexts.noSuchFuel(visit.fuel, fuelIds.join(', '))));
  if (visit.as_left !== undefined && visit.as_left >= visit.trials.length)
    return err(problem('visit-not-clear', `as_left: there is no trial ${visit.as_left}`));
  return ok(factsOf(visit));
}

function factsOf(visit: PlainVisit): PlainFacts {
  const trials = visit.trials.map(trialOf);
  const last = trials.at(-1);
  const stage = last?.setting.stage ?? '1';
  const limits = {
    coAlarmAirFreePpm: visit.alarm_co_air_free_ppm ?? flueCoDefaults.alarmPpm,
    coNoticeAirFreePpm: Math.min(flueCoDefaults.noticePpm, visit.alarm_co_air_free_ppm ?? Infinity),
    o2FloorPercent: visit.o2_floor_pct ?? O2_FLOOR_PERCENT,
    smokeLimit: visit.smoke_limit ?? SMOKE_LIMIT,
  };
  const results = visit.safety ?? [];
  // nothing says which of two results of one test came later: the worse one counts
  const named = (result: 'fail' | 'open'): string[] => [...new Set(results.filter((one) => one.result === result).map(({ test }) => test))];
  const stages = [...new Set(trials.map(({ setting }) => setting.stage))];
  const asLeft = visit.as_left === undefined ? undefined : trials[visit.as_left];
  return {
    advice: {
      stage,
      trials,
      changes: [],
      adjusters: adjustersOf(visit),
      present: last?.setting,
      fuel: visit.fuel === undefined ? undefined : findFuel(visit.fuel),
      flame: visit.flame ?? 'yellow',
      limits,
      reserveCo2Points: 1,
      roomCoPpm: visit.room_co_ppm,
    },
    safe: {
      stages: (stages.length === 0 ? ['1'] : stages).map((name) => ({
        name,
        asLeft: asLeft?.setting.stage === name ? asLeft : undefined,
        newest: trials.findLast(({ setting }) => setting.stage === name),
      })),
      o2FloorPercent: limits.o2FloorPercent,
      isGas: visit.fuel !== undefined && findFuel(visit.fuel)?.phase === 'gas',
      notSaid: [
        ...(visit.bypass_in_place === undefined ? (['bypass'] as const) : []),
        ...(visit.trials.some(({ oil, smoke }, index) => oil === undefined && (smoke !== undefined || index === visit.as_left))
          ? (['oil'] as const)
          : []),
        ...(visit.fuel === undefined ? (['fuel'] as const) : []),
      ],
      trials,
      limits,
      smokeRule: 'worst-spot',
      roomCoPpm: visit.room_co_ppm,
      tests: { passed: results.filter(({ result }) => result === 'pass').length, failed: named('fail'), open: named('open') },
      bypasses: visit.bypass_in_place === true ? ['not named'] : [],
    },
  };
}

/** The finest step, as a share of its scale, is the fine adjuster; a role that was given counts. */
function adjustersOf({ adjusters }: PlainVisit): Adjuster[] {
  const known = adjusters.map(({ name, kind, min, max, step, role, more_air }) => ({
    name,
    unit: '',
    kind,
    min,
    max,
    role,
    moreAir: more_air,
    step: step ?? (min !== undefined && max !== undefined && max > min ? (max - min) / STEPS_ON_A_SCALE : 1),
  }));
  const fineness = ({ min, max, step }: (typeof known)[number]): number =>
    min !== undefined && max !== undefined && max > min ? step / (max - min) : step;
  const air = known.filter(({ kind }) => kind === undefined || kind === 'air').sort((a, b) => fineness(a) - fineness(b));
  return known.map((one) => ({ ...one, role: one.role ?? (one === air[0] ? 'fine' : 'coarse') }));
}

function trialOf({ setting, stage, o2_pct, co_ppm, smoke, oil, settled }: PlainVisit['trials'][number], index: number): Trial {
  const id = String(index);
  const statistics = (channel: 'o2' | 'co', mean: number) => ({
    mean,
    sd: 0,
    n: 1,
    nEff: 1,
    u: fromHalfWidth(toleranceAt(defaultTolerances, channel, mean) ?? 0),
    typed: true,
  });
  const channels = {
    ...defined({
      o2: o2_pct === undefined ? undefined : statistics('o2', o2_pct),
      co: co_ppm === undefined ? undefined : statistics('co', co_ppm),
    }),
  };
  const oilTrace = oil === true ? { oilTrace: true } : {};
  return {
    id,
    runId: '',
    fromMs: index,
    takenWallMs: index,
    setting: {
      stage: stage ?? '1',
      positions: Object.entries(setting).flatMap(([name, value]) => (value === null ? [] : [{ name, value }])),
    },
    ...(Object.keys(channels).length === 0
      ? {}
      : {
          reading: {
            id,
            scope: 'gas' as const,
            // not said is not known, and what is not known to be settled is not taken for it
            settled: settled === true,
            fromMs: index,
            toMs: index,
            takenMs: index,
            final: true,
            channels,
          },
        }),
    // oil without a number: the paper is known for its oil only
    ...(smoke !== undefined
      ? { smoke: { spots: [{ number: smoke, ...oilTrace }] } }
      : oil === true
        ? { smoke: { spots: [{ number: 0, flaw: 'wet' as const, oilTrace: true }] } }
        : {}),
    notes: [],
  };
}

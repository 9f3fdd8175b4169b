/** The visit as one JSON document with a published schema: the record itself in inner units, and what was computed from it. */
import { z } from 'zod';
import { WallMs } from '../wall-clock.ts';
import { Instrument } from '../bench/instrument.ts';
import { itemNames } from '../geometry/items.ts';
import { geometryChanges } from '../geometry/stale.ts';
import { problem, type Problem } from '../problem.ts';
import { err, ok, type Result } from '../result.ts';
import { Appliance } from '../tuning/visit/appliance.ts';
import { fuelOfVisit } from '../tuning/visit/conditions.ts';
import { geometryNow, hasGeometry } from '../tuning/set-up/geometry-now.ts';
import { cardQuantityNames, type CardFigures } from '../tuning/card/target-card.ts';
import { judgeWorstCase, ventingFailed, worstQuantities, worstVerdict, worstVerdicts, type Venting } from '../tuning/safety/venting.ts';
import { Visit } from '../tuning/visit/visit.ts';
import { tapeWords } from './make-report.ts';
import type { ReportInput } from './report-input.ts';
import { safetyFacts } from './safety-facts.ts';
import { allStages, type StageFacts } from './stage-facts.ts';
import { reportTexts } from '../words/core/report.ts';
import { defined } from '../defined.ts';
import { plainRefusal } from '../plain-refusal.ts';

const REPORT_FORMAT = 'flueside-report';
const REPORT_VERSION = 1;

const Figures = z.partialRecord(
  z.enum(cardQuantityNames),
  z.object({ value: z.number(), expanded: z.number().optional().describe(reportTexts.expanded) }),
);
const StageResult = z.object({
  name: z.string(),
  asFound: Figures,
  asLeft: Figures,
  onsetO2: z.object({ value: z.number(), low: z.number(), high: z.number() }).optional(),
  reserveO2Points: z.object({ value: z.number(), expanded: z.number() }).optional(),
  verdicts: z
    .array(
      z.object({ quantity: z.enum(cardQuantityNames), verdict: z.enum(['pass', 'fail', 'too-close', 'not-known']), basis: z.string() }),
    )
    .optional(),
  fuelSavedPercent: z.object({ value: z.number(), expanded: z.number(), clear: z.boolean() }).optional(),
});

/** Electrodes, nozzle and head: as typed, and in mm or marks. */
const GeometryResult = z.object({
  item: z.enum(itemNames),
  asFound: z.string().optional(),
  asLeft: z.string().optional(),
  verdict: z.enum(['pass', 'fail', 'no-figure', 'not-measured', 'unreadable']),
  value: z.number().optional().describe(reportTexts.geometryValue),
  by: z.number().optional().describe(reportTexts.geometryBy),
  measureAgainBecause: z.enum(geometryChanges).optional(),
});

/** What of air and venting failed, and each worst case that was saved, in Pa, % and ppm. */
const VentingResult = z.object({
  failed: z.array(z.string()),
  worstCases: z.array(
    z.object({
      startWallMs: WallMs,
      verdict: z.enum(worstVerdicts),
      lines: z.array(
        z.object({
          quantity: z.enum(worstQuantities),
          off: z.number().optional(),
          on: z.number().optional(),
          change: z.number().optional(),
          changeExpanded: z.number().optional(),
          limit: z.number().optional(),
          source: z.string().optional(),
          verdict: z.string(),
        }),
      ),
    }),
  ),
});

export const ReportDocument = z.object({
  /** stands first when there is one, so that nobody can overlook it */
  watermark: z.string().optional(),
  format: z.literal(REPORT_FORMAT),
  version: z.number().int(),
  madeBy: z.string(),
  units: z.literal(reportTexts.units),
  visit: Visit,
  appliance: Appliance.optional(),
  instrument: Instrument.optional(),
  results: z.object({
    stages: z.array(StageResult),
    /** what CO2 was computed from O2 with; absent where no fuel is named */
    co2Max: z.object({ percent: z.number(), from: z.enum(['visit', 'fuel']) }).optional(),
    geometry: z.array(GeometryResult).optional(),
    venting: VentingResult.optional(),
    safety: z.object({
      passed: z.array(z.string()),
      failed: z.array(z.string()),
      notApplicable: z.array(z.string()),
      open: z.array(z.string()),
      bypassesOpen: z.array(z.string()),
    }),
  }),
  runs: z.array(
    z.object({
      id: z.string(),
      startWallMs: WallMs,
      source: z.enum(['port', 'simulated', 'replay', 'typed']),
      recipe: z.string().optional(),
      lines: z.number().int(),
      notUnderstood: z.number().int(),
      sha256: z.string().optional(),
    }),
  ),
});
export type ReportDocument = z.infer<typeof ReportDocument>;

export function reportDocument(input: ReportInput): ReportDocument {
  const { visit, appliance, instrument, runs, appVersion } = input;
  const safety = safetyFacts(visit, appliance);
  const ids = (rows: typeof safety.rows): string[] => rows.map(({ test }) => test);
  const mark = tapeWords(visit);
  return {
    ...defined({ watermark: mark?.toUpperCase() }),
    format: REPORT_FORMAT,
    version: REPORT_VERSION,
    madeBy: `Flueside ${appVersion}`,
    units: reportTexts.units,
    visit,
    ...defined({ appliance, instrument: instrument?.instrument }),
    results: {
      stages: allStages(visit).map(stageResult),
      ...defined({ co2Max: co2MaxResult(visit) }),
      ...(hasGeometry(visit.setUp) ? { geometry: geometryResults(visit) } : {}),
      ...defined({ venting: visit.venting === undefined ? undefined : ventingResult(visit, visit.venting) }),
      safety: {
        passed: ids(safety.passed),
        failed: ids(safety.failed),
        notApplicable: ids(safety.notApplicable),
        open: ids(safety.open),
        bypassesOpen: [...safety.bypassesOpen],
      },
    },
    runs: runs.map(({ runId, startWallMs, source, recipeName, lines, rejected, hash }) => ({
      id: runId,
      startWallMs,
      source,
      ...defined({ recipe: recipeName }),
      lines,
      notUnderstood: rejected,
      ...defined({ sha256: hash }),
    })),
  };
}

const co2MaxResult = (visit: Visit): ReportDocument['results']['co2Max'] => {
  const fuel = fuelOfVisit(visit);
  return fuel && { percent: fuel.stoichiometry.co2MaxPercent, from: fuel.co2MaxSetPercent === undefined ? 'fuel' : 'visit' };
};

const geometryResults = ({ setUp }: Visit): z.infer<typeof GeometryResult>[] =>
  Object.values(geometryNow(setUp).items).map(({ item, asFound, asLeft, now, staleBecause }) => ({
    item,
    ...defined({ asFound, asLeft }),
    verdict: now.verdict,
    ...('value' in now ? { value: now.value } : {}),
    ...(now.verdict === 'fail' ? { by: now.by } : {}),
    ...defined({ measureAgainBecause: staleBecause }),
  }));

const ventingResult = (visit: Visit, { worstCases }: Venting): z.infer<typeof VentingResult> => ({
  failed: ventingFailed(visit),
  worstCases: worstCases
    .filter(({ savedWallMs }) => savedWallMs !== undefined)
    .map((test) => {
      const lines = judgeWorstCase(test);
      return {
        startWallMs: test.startWallMs,
        verdict: worstVerdict(lines),
        lines: lines.map(({ quantity, off, on, change, changeHalf, limit, source, verdict }) => ({
          quantity,
          ...defined({ off: off?.mean, on: on?.mean, change, changeExpanded: changeHalf, limit, source }),
          verdict,
        })),
      };
    }),
});

export const reportJson = (input: ReportInput): string => `${JSON.stringify(reportDocument(input), undefined, 2)}\n`;

function stageResult({
  stage,
  figuresFound,
  figuresLeft,
  curve,
  reserve,
  verdicts,
  saving,
}: StageFacts): ReportDocument['results']['stages'][number] {
  const onset = curve?.onset;
  return {
    name: stage.name,
    asFound: known(figuresFound),
    asLeft: known(figuresLeft),
    ...(onset?.state === 'found' ? { onsetO2: { value: onset.o2, low: onset.low, high: onset.high } } : {}),
    ...defined({
      reserveO2Points: reserve === undefined ? undefined : { value: reserve.o2Points, expanded: reserve.half },
      verdicts:
        verdicts === undefined ? undefined : verdicts.map(({ line, verdict, basis }) => ({ quantity: line.quantity, verdict, basis })),
      fuelSavedPercent:
        saving === undefined || typeof saving === 'string'
          ? undefined
          : { value: saving.fuelSavedPercent, expanded: saving.fuelSavedExpanded, clear: saving.clear },
    }),
  };
}

const known = (figures: CardFigures): z.infer<typeof Figures> =>
  Object.fromEntries(
    Object.entries(figures).flatMap(([quantity, figure]) =>
      figure === undefined ? [] : [[quantity, { value: figure.value, ...defined({ expanded: figure.expanded }) }]],
    ),
  );

/** The schema as others read it (JSON Schema 2020-12). */
export const reportSchema = (): object => ({
  $id: `flueside-report-${REPORT_VERSION}`,
  title: reportTexts.visitTitle,
  ...z.toJSONSchema(ReportDocument, { io: 'output' }),
});

/** @returns the document, or in words why it is not taken: foreign, from a newer program, or damaged */
export function readReportDocument(text: string): Result<ReportDocument, Problem> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return err(problem(text.includes(REPORT_FORMAT) ? 'file-damaged' : 'file-foreign'));
  }
  const claim = z.object({ format: z.literal(REPORT_FORMAT), version: z.number() }).safeParse(value);
  if (!claim.success) return err(problem('file-foreign'));
  if (claim.data.version > REPORT_VERSION) return err(problem('file-newer'));
  const read = ReportDocument.safeParse(value);
  return read.success ? ok(read.data) : err(problem('file-damaged', plainRefusal(read.error)));
}

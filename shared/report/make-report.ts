import { formatIsoDay, isoDay } from '../format/date.ts';
import { judgeVisit, type SafeJudgement } from '../tuning/advice/safe.ts';
import { withCorrections, type Visit } from '../tuning/visit/visit.ts';
import { isWatermarked } from '../tuning/visit/visit-marks.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { recordWords } from '../words/paper/technical-record.ts';
import { burnerLabel } from './burner-label.ts';
import { ownerPage } from './pages/owner-page.ts';
import { pageOne } from './pages/page-one.ts';
import { cardSection } from './record/card.ts';
import { curveSections } from './record/curve.ts';
import { figureSections } from './record/figures.ts';
import { ventingSection } from './record/venting.ts';
import { workSection } from './record/work.ts';
import { geometrySection } from './record/geometry.ts';
import { instrumentSection } from './record/instrument.ts';
import { jobSection } from './record/job.ts';
import { annexSection, notesSection, signatureSection } from './record/notes.ts';
import { safetySection } from './record/safety.ts';
import { setUpSection } from './record/set-up.ts';
import { trendSection } from './record/trend.ts';
import { trialsSection } from './record/trials.ts';
import type { ReportInput } from './report-input.ts';
import type { ReportModel } from './report-model.ts';
import { safetyFacts } from './safety-facts.ts';
import { allStages } from './stage-facts.ts';
import { shortHash } from './written.ts';
import type { Parts } from './pages/page-parts.ts';

/** The whole report as text and numbers for drawings. Pure: the same visit gives the same report, on any computer. */
export function makeReport(input: ReportInput): ReportModel {
  const { visit } = input;
  const stages = allStages(visit);
  const main = stages.find(({ asLeft }) => asLeft !== undefined) ?? stages[0];
  if (main === undefined) throw new RangeError('a visit has at least one stage');
  const parts: Parts = {
    input,
    visit,
    units: input.units ?? visit.unitPreset,
    stages,
    main,
    safety: safetyFacts(visit, input.appliance),
    judgement: worseOf(input),
    simulated: shortTape(visit),
  };
  return {
    fileStem: fileStem(visit),
    documentTitle: [reportWords.title, reportWords.visit(visit.number), formatIsoDay(dayOf(visit)), input.appliance?.name]
      .filter((part) => part !== undefined)
      .join(', '),
    tape: tapeWords(visit),
    foot: { cautions: reportWords.foot, run: runLine(input) },
    first: pageOne(parts),
    owner: ownerPage(parts),
    record: [
      jobSection(parts),
      workSection(parts),
      geometrySection(parts),
      setUpSection(parts),
      trialsSection(parts),
      ...curveSections(parts),
      trendSection(parts),
      ...figureSections(parts),
      cardSection(parts),
      safetySection(parts),
      ventingSection(parts),
      instrumentSection(parts),
      notesSection(parts),
      signatureSection(parts),
    ].filter((section) => section !== undefined),
    annex: annexSection(parts),
    label: burnerLabel(parts),
  };
}

/** What was signed stands, but a correction that makes the burner not safe is said on every page. */
function worseOf({ visit, appliance, instrument }: ReportInput): SafeJudgement {
  const facts = { appliance, certificateUntil: instrument?.instrument.certificateUntil };
  const now = judgeVisit(withCorrections(visit), facts);
  return now.safe === 'no' ? now : judgeVisit(visit, facts);
}

const dayOf = ({ startedWallMs, zoneMinutes }: Visit): string => isoDay(startedWallMs, zoneMinutes);

/** No ':' and nothing typed by a person: a name that every system takes. */
const fileStem = (visit: Visit): string => `flueside-visit-${visit.number}-${dayOf(visit)}${isWatermarked(visit) ? '-training' : ''}`;

export function tapeWords(visit: Visit): string | undefined {
  const has = (source: Visit['runs'][number]['source']): boolean => visit.runs.some((run) => run.source === source);
  const words = [
    has('simulated') ? reportWords.tape.simulated : undefined,
    has('replay') ? reportWords.tape.replay : undefined,
    has('typed') ? reportWords.tape.typed : undefined,
    visit.kind === 'training' ? reportWords.tape.training : undefined,
  ].filter((part) => part !== undefined);
  return words.length === 0 ? undefined : words.join(' · ');
}

/** The word behind every chart. */
const shortTape = (visit: Visit): string | undefined =>
  visit.runs.some(({ source }) => source === 'simulated')
    ? recordWords.sources.simulated
    : visit.runs.some(({ source }) => source === 'replay')
      ? recordWords.sources.replay
      : undefined;

function runLine({ visit, runs }: ReportInput): string {
  const hashes = visit.runs.flatMap(({ id, hash }) => hash ?? runs.find(({ runId }) => runId === id)?.hash ?? []);
  const [first] = hashes;
  if (first === undefined) return '';
  return reportWords.run(`${shortHash(first)}${hashes.length > 1 ? ` and ${hashes.length - 1} more` : ''}`);
}

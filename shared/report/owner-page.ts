/** One plain page to hand to the owner: what was done, before and after, is it safe, what to watch. No advert, no false precision. */
import { isLeftOff } from '../tuning/safe.ts';
import { safeHeadline } from '../words/advice.ts';
import { formatsFor } from '../words/formats.ts';
import { testTitle } from './safety-facts.ts';
import { formatIsoDay, formatLongDay } from '../format/date.ts';
import { formatWithUnit } from '../format/quantity.ts';
import { isWatermarked } from '../tuning/visit.ts';
import type { CardQuantity } from '../tuning/target-card.ts';
import { ownerWords, reportWords } from '../words/report.ts';
import { cardFigureText, cardUnit } from './card-format.ts';
import type { Block, Cell, Section } from './report-model.ts';
import { quantityWords } from '../words/tune.ts';
import { defectLines, workLines } from './record/work.ts';
import { workWords } from '../words/trade.ts';
import { written } from './written.ts';
import type { Parts } from './page-parts.ts';

export function ownerPage(parts: Parts): Section {
  const { visit, input } = parts;
  const technician = visit.people.find(({ role }) => role === 'technician');
  const due = visit.nextDue ?? input.appliance?.nextDue;
  const defects = defectLines(visit);
  return {
    title: reportWords.ownerTitle,
    blocks: [
      text(ownerWords.about(formatLongDay(visit.startedWallMs, visit.zoneMinutes), input.appliance?.name ?? reportWords.noAppliance)),
      heading(ownerWords.doneTitle),
      { kind: 'list', items: whatWasDone(parts) },
      ...beforeAfterBlocks(parts),
      heading(ownerWords.safeTitle),
      ...safeBlocks(parts),
      ...(defects.length === 0 ? [] : [heading(workWords.defects), { kind: 'list', items: defects } as const]),
      heading(ownerWords.watchTitle),
      { kind: 'list', items: ownerWords.watch },
      heading(ownerWords.switchTitle),
      { kind: 'list', items: ownerWords.switch },
      heading(ownerWords.dueTitle),
      text(due === undefined ? ownerWords.noDue : ownerWords.due(formatIsoDay(due))),
      ...(technician === undefined ? [] : [text(ownerWords.contact(technician.name, technician.licence))]),
      { kind: 'text', text: ownerWords.keep, tone: 'note' },
    ],
  };
}

const text = (words: string): Block => ({ kind: 'text', text: words });
const heading = (words: string): Block => ({ kind: 'heading', text: words });

function whatWasDone({ visit, stages }: Parts): string[] {
  const kinds = [...new Set(visit.changes.map(({ kind }) => ownerWords.done.changed[kind]))];
  const withReading = visit.trials.filter(({ reading }) => reading !== undefined).length;
  const left = stages.every(({ asLeft }) => asLeft?.reading !== undefined);
  return [
    ...(stages.some(({ asFound }) => asFound !== undefined) ? [ownerWords.done.asFound] : []),
    ...(kinds.length > 0 ? [ownerWords.done.changes(kinds)] : []),
    ...workLines(visit).map((line) => `${line}.`),
    ...(withReading > 0 ? [ownerWords.done.air(withReading)] : []),
    left ? ownerWords.done.left : ownerWords.done.notFinished,
  ];
}

const rows = [
  ['heat', 'efficiencyHhvPercent'],
  ['co', 'coAirFreePpm'],
  ['smoke', 'smokeNumber'],
  ['stack', 'netStackK'],
] as const satisfies readonly (readonly [keyof typeof ownerWords.rows, CardQuantity])[];

function beforeAfterBlocks({ main, units }: Parts): Block[] {
  const cell = (quantity: CardQuantity, figures: Parts['main']['figuresLeft']): string => {
    const figure = cardFigureText(quantity, figures[quantity], units);
    if (figure === undefined) return reportWords.notTaken;
    return written(figure, quantity === 'efficiencyHhvPercent' ? '' : cardUnit(quantity, units));
  };
  const shown = rows.filter(([, quantity]) => main.figuresFound[quantity] !== undefined || main.figuresLeft[quantity] !== undefined);
  if (shown.length === 0) return [];
  return [
    heading(ownerWords.beforeAfterTitle),
    {
      kind: 'table',
      columns: [
        { label: ownerWords.columns.what, width: 360 },
        { label: ownerWords.columns.before, figures: true, width: 156 },
        { label: ownerWords.columns.after, figures: true, width: 156 },
      ],
      rows: shown.map(([word, quantity]): Cell[] => [
        ownerWords.rows[word],
        cell(quantity, main.figuresFound),
        { text: cell(quantity, main.figuresLeft), strong: true },
      ]),
    },
    { kind: 'text', text: ownerWords.heatNote, tone: 'note' },
  ];
}

function safeBlocks({ visit, safety, judgement, units, stages }: Parts): Block[] {
  const alarm = (words: string): Block => ({ kind: 'text', text: words, tone: 'alarm' });
  const blocks: Block[] = [];
  if (isWatermarked(visit)) blocks.push(alarm(ownerWords.safe.training));
  const headline = safeHeadline(judgement, formatsFor(units), testTitle, stages.length);
  if (judgement.safe === 'no' && headline !== undefined) blocks.push(alarm(ownerWords.safe.no(headline)));
  else if (judgement.safe === 'unknown' && headline !== undefined) blocks.push({ kind: 'text', text: headline, tone: 'strong' });
  if (isLeftOff(visit) && visit.notLeftRunning !== undefined)
    blocks.push({ kind: 'text', text: ownerWords.safe.leftOff(visit.notLeftRunning.ownerTold), tone: 'strong' });
  if (safety.passed.length + safety.failed.length === 0) blocks.push(alarm(ownerWords.safe.none));
  else if (safety.open.length > 0) blocks.push({ kind: 'text', text: ownerWords.safe.open(safety.open.length), tone: 'strong' });
  else if (judgement.safe === 'yes') blocks.push({ kind: 'text', text: ownerWords.safe.allPassed(safety.passed.length), tone: 'strong' });
  const missed = stages.flatMap(({ verdicts }) => verdicts ?? []).filter(({ verdict }) => verdict === 'fail');
  if (missed.length > 0)
    blocks.push({
      kind: 'text',
      text: ownerWords.safe.missed([...new Set(missed.map(({ line }) => midSentence(quantityWords[line.quantity])))]),
      tone: 'strong',
    });
  const roomCo = visit.roomCo.at(-1);
  blocks.push(
    text(roomCo === undefined ? ownerWords.safe.noRoomCo : ownerWords.safe.roomCo(formatWithUnit('ambientCo', roomCo.ppm, units))),
  );
  return blocks;
}

/** 'Stack, gross' -> 'stack, gross'; O2 and CO stay as they are. */
const midSentence = (label: string): string => (/^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label);

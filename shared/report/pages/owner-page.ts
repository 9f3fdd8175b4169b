/** One plain page to hand to the owner: what was done, before and after, is it safe, what to watch. No advert, no false precision. */
import { isLeftOff } from '../../tuning/advice/safe.ts';
import { safeHeadline } from '../../words/tune/advice.ts';
import { formatsFor } from '../../words/formats.ts';
import { testTitle } from '../safety-facts.ts';
import { formatIsoDay, formatLongDay } from '../../format/date.ts';
import { formatWithUnit } from '../../format/quantity.ts';
import { isWatermarked } from '../../tuning/visit/visit-marks.ts';
import type { CardQuantity } from '../../tuning/card/target-card.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { ownerWords } from '../../words/paper/owner-page.ts';
import { cardFigureText, cardUnit } from '../card-format.ts';
import { nextDueOf } from '../label-facts.ts';
import type { Block, Cell, OwnerPage, VerdictShape } from '../report-model.ts';
import { quantityWords } from '../../words/visit/target-card.ts';
import { defectLines, workLines } from '../record/work.ts';
import { workWords } from '../../words/tune/trade.ts';
import { timesOf, written } from '../written.ts';
import { fuelName } from './page-one.ts';
import type { Parts } from './page-parts.ts';
import { whenDefined } from '../../defined.ts';

export function ownerPage(parts: Parts): OwnerPage {
  const { visit, input } = parts;
  const technician = visit.people.find(({ role }) => role === 'technician');
  const done = whatWasDone(parts);
  return {
    title: reportWords.ownerTitle,
    about: ownerWords.about(visit.number, formatLongDay(visit.startedWallMs, visit.zoneMinutes)),
    side: [
      input.appliance?.name ?? reportWords.noAppliance,
      fuelName(visit),
      ...whenDefined(technician, (technician) => ownerWords.by(technician.name, technician.licence)),
    ],
    blocks: [
      verdict(parts),
      ...beforeAfterBlocks(parts),
      {
        kind: 'columns',
        columns: [
          [heading(ownerWords.doneTitle), done.length === 0 ? text(ownerWords.done.nothing) : { kind: 'signs', sign: 'done', items: done }],
          [...toDoBlocks(parts), ...nextVisit(parts)],
        ],
      },
      {
        kind: 'columns',
        columns: [
          [heading(ownerWords.callTitle), text(ownerWords.call)],
          [heading(ownerWords.switchTitle), ...ownerWords.switch.map(text)],
          [heading(ownerWords.alarmTitle), ...ownerWords.alarm.map(text)],
        ],
      },
    ],
  };
}

const text = (words: string): Block => ({ kind: 'text', text: words });
const heading = (words: string): Block => ({ kind: 'heading', text: words });

const isMeasuredAsLeft = ({ stages }: Parts): boolean => stages.every(({ asLeft }) => asLeft?.reading !== undefined);

function toDoBlocks(parts: Parts): Block[] {
  const { visit } = parts;
  const items = [...(isMeasuredAsLeft(parts) ? [] : [ownerWords.done.notFinished]), ...defectLines(visit)];
  const told = visit.ownerTold;
  return [
    heading(ownerWords.toDoTitle),
    items.length === 0 ? text(ownerWords.nothingToDo) : { kind: 'signs', sign: 'to-do', items },
    ...whenDefined(told, (told) => text(ownerWords.told(told.whom, workWords.hows[told.how], timesOf(visit).clock(told.wallMs)))),
  ];
}

function nextVisit({ visit, input }: Parts): Block[] {
  const due = nextDueOf(visit, input.appliance);
  return [
    heading(ownerWords.dueTitle),
    due === undefined ? text(ownerWords.noDue) : { kind: 'text', text: formatIsoDay(due), tone: 'big' },
  ];
}

function whatWasDone(parts: Parts): string[] {
  const { visit, stages } = parts;
  const kinds = [...new Set(visit.changes.map(({ kind }) => ownerWords.done.changed[kind]))];
  const withReading = visit.trials.filter(({ reading }) => reading !== undefined).length;
  return [
    ...(stages.some(({ asFound }) => asFound !== undefined) ? [ownerWords.done.asFound] : []),
    ...(kinds.length > 0 ? [ownerWords.done.changes(kinds)] : []),
    ...workLines(visit).map((line) => `${line}.`),
    ...(withReading > 0 ? [ownerWords.done.air(withReading)] : []),
    ...(isMeasuredAsLeft(parts) ? [ownerWords.done.left] : []),
  ];
}

const rows = [
  ['smoke', 'smokeNumber'],
  ['co', 'coAirFreePpm'],
  ['heat', 'efficiencyHhvPercent'],
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
  const isSame = typeof main.saving === 'object' && !main.saving.clear;
  return [
    {
      kind: 'table',
      columns: [
        { label: ownerWords.columns.what, width: 206 },
        { label: ownerWords.columns.before, figures: true, width: 122 },
        { label: ownerWords.columns.after, figures: true, width: 122 },
        { label: ownerWords.columns.means, width: 222 },
      ],
      rows: shown.map(([word, quantity]): Cell[] => [
        ownerWords.rows[word],
        cell(quantity, main.figuresFound),
        { text: cell(quantity, main.figuresLeft), strong: true },
        ownerWords.means[word === 'heat' && isSame ? 'same' : word],
      ]),
    },
    { kind: 'text', text: ownerWords.heatNote, tone: 'note' },
  ];
}

type Verdict = Extract<Block, { kind: 'verdict' }>;

/** What an owner can repeat: safe or not comes first, then what is missing, then the limits. */
function verdict({ visit, safety, judgement, units, stages }: Parts): Verdict {
  const verdicts = stages.flatMap((stage) => stage.verdicts ?? []);
  const missed = verdicts.filter((one) => one.verdict === 'fail').map(({ line }) => midSentence(quantityWords[line.quantity]));
  const roomCo = visit.roomCo.at(-1);
  const told = visit.notLeftRunning;
  const { safe } = ownerWords;
  const rest = [
    ...(isLeftOff(visit) && told !== undefined ? [safe.leftOff(told.ownerTold)] : []),
    roomCo === undefined ? safe.noRoomCo : safe.roomCo(formatWithUnit('ambientCo', roomCo.ppm, units)),
  ];
  const notMet = missed.length > 0 ? [safe.missed([...new Set(missed)])] : [];
  const say = (shape: VerdictShape, headline: string, ...about: string[]): Verdict => ({
    kind: 'verdict',
    shape,
    headline,
    about: [...about, ...rest],
  });
  const headline = safeHeadline(judgement, formatsFor(units), testTitle, stages.length);
  const untested =
    safety.passed.length + safety.failed.length === 0 ? [safe.none] : safety.open.length > 0 ? [safe.open(safety.open.length)] : [];
  const unsafe = judgement.safe === 'no' && headline !== undefined ? [headline, safe.no] : [];
  const unknown = judgement.safe === 'unknown' && headline !== undefined ? [headline] : [];
  // the first of these is the sentence, the others go below it
  const [first, ...more] = [...(isWatermarked(visit) ? [safe.training] : []), ...unsafe, ...untested, ...unknown];
  if (first !== undefined) return say(unsafe.length > 0 && !isWatermarked(visit) ? 'alarm' : 'not-known', first, ...more, ...notMet);
  // tests that passed are no comfort beside a defect that was left
  if ((visit.defects ?? []).some(({ weight }) => weight !== 'advice')) return say('too-close', safe.repair, ...notMet);
  const passed = safe.allPassed(safety.passed.length);
  const [limits] = notMet;
  if (limits !== undefined) return say('fail', limits, passed);
  const isMet = verdicts.length > 0 && verdicts.every((one) => one.verdict === 'pass');
  return say('pass', passed, ...(isMet ? [safe.allMet] : []));
}

/** 'Stack, gross' -> 'stack, gross'; O2 and CO stay as they are. */
const midSentence = (label: string): string => (/^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label);

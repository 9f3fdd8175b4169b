/** Page 1 of a burner that is not safe and was left off: what is known with its times, how it was left, what comes before it runs again. */
import { formatNumber, formatSmoke } from '../../format/quantity.ts';
import { roomCoLevel } from '../../tuning/advice/cautions.ts';
import { limitsInForce } from '../../tuning/advice/limits-in-force.ts';
import { isLeftOff, type UnsafeReason } from '../../tuning/advice/safe.ts';
import { judgeCard } from '../../tuning/card/target-card.ts';
import { HAND_TIMING_EXPANDED_S } from '../../tuning/safety/safety-plan.ts';
import { lower, notSafeWords as words, repairWords } from '../../words/records/not-safe.ts';
import { formatsFor } from '../../words/formats.ts';
import { unsafeWords } from '../../words/tune/advice.ts';
import { cardTable } from '../card-table.ts';
import type { CardTable, KnownRow, NotSafe } from '../report-model.ts';
import { testTitle } from '../safety-facts.ts';
import { timesOf } from '../written.ts';
import type { Parts } from './page-parts.ts';

/** Not safe by itself is any visit whose tests are not made yet; page 1 changes when the burner was left off for it. */
export const isNotSafePage = ({ judgement, visit }: Pick<Parts, 'judgement' | 'visit'>): boolean =>
  judgement.safe === 'no' && isLeftOff(visit);

export function notSafeOf(parts: Parts): NotSafe | undefined {
  const { visit, judgement } = parts;
  const { notLeftRunning } = visit;
  if (!isNotSafePage(parts) || notLeftRunning === undefined) return undefined;
  const when = timesOf(visit).clock(notLeftRunning.wallMs);
  const repairs = judgement.unsafe.flatMap((reason) => repairWords(reason, testTitle) ?? []);
  return {
    known: [...roomCoRows(parts), ...judgement.unsafe.filter(({ key }) => key !== 'room-co').flatMap((reason) => knownRows(reason, parts))],
    left: [
      { name: words.leftOff, about: words.leftOffAbout, when },
      { name: words.redTagged, about: words.redTaggedAbout, when },
      { name: words.ownerTold, about: notLeftRunning.ownerTold, when },
    ],
    before: [...repairs, words.newVisit],
  };
}

/** Readings that stop the job, and the last one whatever it was. */
function roomCoRows({ visit }: Parts): KnownRow[] {
  const times = timesOf(visit);
  return visit.roomCo.flatMap(({ ppm, place, wallMs }, index): KnownRow[] => {
    const level = roomCoLevel(ppm);
    const stops = level === 'stop' || level === 'out';
    if (!stops && index < visit.roomCo.length - 1) return [];
    return [
      {
        sign: stops ? 'fail' : level === 'notice' ? 'notice' : 'not-applicable',
        name: words.roomCo(place),
        value: { value: formatNumber(ppm, 0) },
        unit: 'ppm',
        limit: stops ? words.roomCoLimits[level] : words.forTheRecord,
        when: times.clock(wallMs),
      },
    ];
  });
}

/** more tests than these are counted */
const MOST_NAMED = 3;

function knownRows(reason: UnsafeReason, { visit, units, stages }: Parts): KnownRow[] {
  const times = timesOf(visit);
  const limits = limitsInForce(visit);
  const f = formatsFor(units);
  switch (reason.key) {
    case 'safety-failed':
      return reason.tests.map((test): KnownRow => {
        const made = visit.safety.findLast((one) => one.test === test);
        const seconds = made?.seconds;
        return {
          sign: 'fail',
          name: testTitle(test),
          ...(seconds === undefined
            ? { value: { value: words.failed }, unit: '' }
            : { value: { value: formatNumber(seconds, 1), half: `±${formatNumber(HAND_TIMING_EXPANDED_S, 1)}` }, unit: 's' }),
          limit: made?.markedSeconds === undefined ? (made?.note ?? '') : words.marked(`${formatNumber(made.markedSeconds, 0)}\u00a0s`),
          when: made === undefined ? '' : times.clock(made.wallMs),
        };
      });
    case 'safety-open': {
      const named = reason.tests.slice(0, MOST_NAMED).map((test, index) => (index === 0 ? testTitle(test) : lower(testTitle(test))));
      const more = reason.tests.length - named.length;
      const name = [named.join('; '), ...(more > 0 ? [words.further(more)] : [])].join(' ');
      return [{ sign: 'open', name, value: { value: words.notDone }, unit: '', limit: '', when: '' }];
    }
    case 'flue-co':
      return [
        {
          sign: 'fail',
          name: reason.airFreePpm === undefined ? words.flueCo.measured : words.flueCo.airFree,
          value: { value: formatNumber(reason.airFreePpm ?? reason.ppm, 0) },
          unit: 'ppm',
          limit: words.atMost(f.ppm(limits.coAlarmAirFreePpm)),
          when: '',
        },
      ];
    case 'smoke':
      return [
        {
          sign: 'fail',
          name: words.smoke,
          value: { value: formatSmoke(reason.smoke) },
          unit: '',
          limit: words.atMost(formatSmoke(reason.limit)),
          when: '',
        },
      ];
    default: {
      const said = unsafeWords(reason, f, testTitle, stages.length);
      return [{ sign: 'fail', name: said.charAt(0).toUpperCase() + said.slice(1), value: undefined, unit: '', limit: '', when: '' }];
    }
  }
}

/** The burner as it was found against its card, when it was stopped before anything was read again. */
export function stoppedCard({ visit, main, units }: Parts): CardTable {
  const card = cardTable(
    visit,
    {
      ...main,
      verdicts: visit.targetCard && main.asFound ? judgeCard(visit.targetCard, main.figuresFound) : undefined,
    },
    units,
  );
  return { ...card, title: words.asFound, foundOnly: true, notes: [...card.notes, words.noAsLeft] };
}

/** A stored bench test -> exactly what its certificate says, figures already written. Order after OIML R 144-3: identification, each test, conclusion, persons. */
import type { BenchTest, Round } from '../../bench/bench-test.ts';
import { gasFlaws } from '../../bench/instrument.ts';
import { freshAirReference, gasOf } from '../../bench/references.ts';
import { gasRows, headlineOf, roundResult, type RoundResult, type Verdict } from '../../bench/results/test-result.ts';
import type { GasSlot } from '../../bench/plan.ts';
import { formatClock } from '../../format/duration.ts';
import { formatDay, formatIsoDay, formatZone, isoDay, wholeMonths } from '../../format/date.ts';
import { formatNumber } from '../../format/quantity.ts';
import { bench } from '../../words/bench/bench.ts';
import { benchRun } from '../../words/bench/bench-run.ts';
import { benchResult } from '../../words/bench/bench-result.ts';
import { certificateWords } from '../../words/paper/certificate.ts';
import { certified, errorBeside, figure, limitText, unitOf, unitText, withHalf } from '../../words/bench/bench-format.ts';
import { furtherRows } from '../../words/bench/bench-further.ts';
import { headlineText } from '../../words/bench/bench-headline.ts';
import { whenDefined } from '../../defined.ts';

const words = certificateWords;

export type CertificateRow = {
  readonly channel: string;
  readonly gas: string;
  readonly reference: string;
  readonly reading: string;
  readonly error: string;
  readonly limit: string;
  readonly u: string;
  readonly verdict: Verdict;
  readonly scale: { readonly value: number; readonly expanded: number; readonly limit: number } | undefined;
  readonly budget: readonly { readonly name: string; readonly u: string }[];
};
export type CertificateRound = {
  readonly title: string;
  readonly rows: readonly CertificateRow[];
  readonly further: readonly {
    readonly channel: string;
    readonly name: string;
    readonly value: string;
    readonly limit: string;
    readonly verdict: Verdict;
  }[];
  readonly deviations: readonly string[];
};
export type Certificate = {
  readonly title: string;
  readonly documentTitle: string;
  /** name of its files, without an ending */
  readonly fileStem: string;
  readonly tape: string | undefined;
  readonly instrumentLine: string;
  readonly side: readonly string[];
  readonly verdict: { readonly sentence: string; readonly verdict: Verdict };
  readonly facts: readonly { readonly label: string; readonly value: string }[];
  readonly gases: readonly {
    readonly gas: string;
    readonly bottle: string;
    readonly certificate: string;
    readonly value: string;
    readonly expires: string;
    readonly note: string | undefined;
  }[];
  readonly rounds: readonly CertificateRound[];
  readonly adjustment: string;
  readonly foot: readonly string[];
  readonly signature: { readonly name: string; readonly when: string; readonly state: string };
  readonly hash: string;
};

export type CertificateInput = {
  readonly test: BenchTest;
  /** SHA-256 over what was measured, hexadecimal */
  readonly hash: string;
  readonly software: string;
  /** it is signed, and no longer what was signed */
  readonly altered?: boolean | undefined;
};

export function certificateOf({ test, hash, software, altered = false }: CertificateInput): Certificate {
  const at = (wallMs: number): string => `${formatDay(wallMs, test.zoneMinutes)} ${formatClock(wallMs, test.zoneMinutes, 'minutes')}`;
  const results = test.rounds.map((round) => ({ round, result: roundResult(test, round) }));
  const last = results[results.length - 1];
  const headline = last === undefined ? undefined : headlineOf(last.result.evaluation, test.limits);
  const ended = test.endedWallMs === undefined ? undefined : at(test.endedWallMs);
  const { instrument } = test;
  const verdict: Verdict =
    headline === undefined || headline.kind === 'not-judged' || headline.kind === 'part' || headline.kind === 'nothing'
      ? 'not-judged'
      : headline.kind === 'fit'
        ? 'pass'
        : headline.kind === 'not-fit'
          ? 'fail'
          : 'conditional';
  return {
    title: words.title,
    documentTitle: words.fileName(instrument.name, isoDay(test.startedWallMs, test.zoneMinutes)),
    fileStem: `flueside-bench-${slug(instrument.name)}-${isoDay(test.startedWallMs, test.zoneMinutes)}${test.watermark === undefined ? '' : '-training'}`,
    tape: test.watermark === undefined ? undefined : words.tape,
    instrumentLine: [instrument.name, instrument.serial === undefined ? '' : bench.instrument.serialShown(instrument.serial)]
      .filter(Boolean)
      .join(', '),
    side: [`${ended === undefined ? at(test.startedWallMs) : `${at(test.startedWallMs)} to ${ended}`} ${formatZone(test.zoneMinutes)}`],
    verdict: { sentence: headline === undefined ? benchResult.nothing : headlineText(headline), verdict },
    facts: factsOf(test, { time: ended === undefined ? at(test.startedWallMs) : `${at(test.startedWallMs)} to ${ended}` }),
    gases: gasesOf(test),
    rounds: results.map(({ round, result }) => roundOf(test, round, result)),
    adjustment: test.adjustment === undefined ? words.noAdjustment : words.adjusted(test.adjustment),
    foot: [
      test.limits === undefined ? benchResult.measured : bench.ruleSentences[test.limits.decisionRule],
      words.expandedNote,
      words.holds,
      test.watermark === undefined ? words.traceable : words.practice,
      words.noAccreditation,
      words.hashMeans,
      `${words.software}: ${software}`,
    ],
    signature: {
      name: test.signature?.name ?? '',
      when: test.signature === undefined ? '' : at(test.signature.wallMs),
      state:
        test.watermark !== undefined
          ? words.practice
          : test.signature === undefined
            ? words.unsigned
            : altered
              ? words.altered
              : words.signedBy(test.signature.name, at(test.signature.wallMs)),
    },
    hash,
  };
}

/** what every file system takes */
const slug = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase()
    .slice(0, 40) || 'instrument';

function factsOf(test: BenchTest, { time }: { time: string }): Certificate['facts'] {
  const { instrument, room } = test;
  const cell = instrument.cells.map(({ channel, serial, installed, rangeLow, rangeHigh }) => {
    const months = installed === undefined ? undefined : wholeMonths(installed, isoDay(test.startedWallMs, test.zoneMinutes));
    return [
      `${bench.channels[channel]} ${formatNumber(rangeLow, 0)} to ${unitText(channel, formatNumber(rangeHigh, 0))}`,
      serial,
      months === undefined ? bench.instrument.noAge(bench.channels[channel]) : bench.instrument.age(bench.channels[channel], months),
    ]
      .filter((part) => part !== undefined)
      .join(', ');
  });
  const entries: readonly (readonly [string, string | undefined])[] = [
    [words.facts.bench, test.bench],
    [words.facts.person, test.person],
    [words.facts.time, time],
    [words.facts.instrument, instrument.name],
    [words.facts.serial, instrument.serial],
    [words.facts.firmware, instrument.firmware],
    [words.facts.cells, cell.join('; ')],
    [words.facts.hose, instrument.hose],
    [words.facts.filter, instrument.filterChanged === undefined ? undefined : formatIsoDay(instrument.filterChanged)],
    [words.facts.place, room.place],
    [
      words.facts.room,
      room.airC === undefined && room.relativeHumidityPercent === undefined
        ? undefined
        : [
            room.airC === undefined ? '' : `${formatNumber(room.airC, 1)} °C`,
            room.relativeHumidityPercent === undefined ? '' : `${formatNumber(room.relativeHumidityPercent, 0)} % relative humidity`,
          ]
            .filter(Boolean)
            .join(', '),
    ],
    [words.facts.pressure, room.pressurePa === undefined ? undefined : `${formatNumber(room.pressurePa / 100, 0)} hPa`],
    [words.facts.plan, test.plan.name],
    [
      words.facts.limits,
      test.limits === undefined
        ? undefined
        : `${test.limits.name}: ${[...new Set(test.limits.lines.map(({ source }) => source))].join('; ')}`,
    ],
  ];
  return entries.map(([label, value]) => ({ label, value: value === undefined || value === '' ? words.notStated : value }));
}

function gasesOf(test: BenchTest): Certificate['gases'] {
  // the last day on which it was used, where the test was
  const lastUseOf = (slot: GasSlot): string => {
    const steps = new Set(test.plan.steps.filter((step) => step.slot === slot).map(({ id }) => id));
    const times = test.rounds.flatMap((round) => round.steps.filter(({ stepId }) => steps.has(stepId)).map(({ atMs }) => atMs));
    return isoDay(test.startedWallMs + Math.max(0, ...times), test.zoneMinutes);
  };
  const air = freshAirReference(test.room);
  const airText = `${figure('o2', air.value, air.expanded)} ${withHalf('o2', air.expanded)}\u2009%`;
  return [
    {
      gas: words.airRow,
      bottle: '',
      certificate: '',
      value: test.room.dried ? words.airDried(airText) : words.airValue(airText),
      expires: '',
      note: undefined,
    },
    ...test.gases.map(({ slot, gas, reason }) => {
      const flaws = gasFlaws(gas, lastUseOf(slot));
      return {
        gas: gas.name,
        bottle: gas.serial ?? words.notStated,
        certificate: gas.certificate ?? words.notStated,
        value: [
          ...gas.components.map(
            ({ channel, value, expanded }) =>
              `${bench.channels[channel]} ${figure(channel, value, expanded)} ${withHalf(channel, expanded)}\u2009${unitOf(channel)}`,
          ),
          ...whenDefined(gas.hydrogenPpm, (hydrogenPpm) => `H2 ${formatNumber(hydrogenPpm, 0)}\u2009ppm`),
        ].join('; '),
        expires: gas.expires === undefined ? words.notStated : formatIsoDay(gas.expires),
        note:
          flaws.length === 0
            ? undefined
            : words.usedAlthough(flaws.map((flaw) => bench.gas.flaws[flaw]).join(', '), reason ?? words.notStated),
        slot,
      };
    }),
  ];
}

function roundOf(test: BenchTest, round: Round, result: RoundResult): CertificateRound {
  const gasName = (slot: GasSlot): string => (slot === 'air' ? bench.slots.air : (gasOf(test.gases, slot)?.name ?? bench.slots[slot]));
  const rows = gasRows(result.evaluation, test.limits).map((row): CertificateRow => {
    const { channel, budget, limit } = row;
    const digits = unitOf(channel) === '%' ? 3 : 2;
    return {
      channel: bench.channels[channel],
      gas: `${gasName(row.level as GasSlot)}${row.repeats > 1 ? ` × ${row.repeats}` : ''}`,
      reference: certified(channel, row.reference),
      reading: figure(channel, row.reading, budget.expanded),
      error: errorBeside(channel, row.error, limit, budget.expanded),
      limit: limit === undefined ? '' : limitText(limit),
      u: withHalf(channel, budget.expanded),
      verdict: row.verdict,
      scale: limit === undefined ? undefined : { value: row.error, expanded: budget.expanded, limit },
      budget: budget.contributions.map(({ key, u }) => ({
        name: benchResult.contributions[key],
        u: unitText(channel, formatNumber(u, digits)),
      })),
    };
  });
  const deviations = round.steps.flatMap(({ stepId, end, why, absent }, i) => {
    const step = test.plan.steps.find(({ id }) => id === stepId);
    const name = step === undefined ? stepId : `${i + 1}, ${bench.purposes[step.purpose]}, ${gasName(step.slot)}`;
    return [
      ...(end === 'reached'
        ? []
        : [`${name}: ${end === 'left-out' ? benchRun.leftOut : benchRun.notReached}${why === undefined ? '' : `. ${why}`}`]),
      ...whenDefined(
        absent,
        (absent) => `${name}: ${benchRun.overRange(test.instrument.name, absent.map((channel) => bench.channels[channel]).join(', '))}`,
      ),
    ];
  });
  return {
    title: round.kind === 'as-found' ? words.foundTitle : words.leftTitle,
    rows,
    further: furtherRows(result, gasName).map(({ channel, name, value, limit, verdict }) => ({
      channel: bench.channels[channel],
      name,
      value,
      limit,
      verdict,
    })),
    deviations: [
      ...deviations,
      ...result.linesMissing.map(({ channel, to }) => benchResult.linesMissing(bench.channels[channel], gasName(to as GasSlot))),
      ...result.notJudged.map(({ channel, slot }) => benchResult.notJudgedRange(bench.channels[channel], gasName(slot as GasSlot))),
    ],
  };
}

/** What the hash is taken over: the steps as they were measured, in a fixed order of keys. */
export const certificateRaw = ({ rounds, gases, room, instrument, plan }: BenchTest): string =>
  JSON.stringify({ instrument, gases, room, plan, rounds });

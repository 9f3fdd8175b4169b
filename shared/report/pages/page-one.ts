import { derive } from '../../combustion/figures/derive.ts';
import { formatLongDay } from '../../format/date.ts';
import { formatNumber, formatPosition, formatWithUnit, type UnitSystem } from '../../format/quantity.ts';
import { positionOf } from '../../tuning/trial/setting.ts';
import { combustionInput } from '../../tuning/visit/before-after.ts';
import { geometryLine } from '../record/geometry.ts';
import { withGeometryRows } from '../../tuning/set-up/geometry-now.ts';
import { presentValue } from '../../tuning/set-up/set-up-sheet.ts';
import { isLeftOff } from '../../tuning/advice/safe.ts';
import { overallVerdict, type LineVerdict } from '../../tuning/card/target-card.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import { leftOffWords, safeHeadline, unsafeWords } from '../../words/tune/advice.ts';
import { notSafeWords } from '../../words/records/not-safe.ts';
import { common } from '../../words/common.ts';
import { formatsFor } from '../../words/formats.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { quantityWords } from '../../words/visit/target-card.ts';
import { onsetWords } from '../../words/visit/smoke-and-window.ts';
import { longSources } from './card-sources.ts';
import { cardTable } from '../card-table.ts';
import { cardFigureText } from '../card-format.ts';
import { curvePicture } from '../curve-picture.ts';
import type { CardTable, PageOne, Signature, VerdictShape } from '../report-model.ts';
import { testTitle, type SafetyFacts } from '../safety-facts.ts';
import type { StageFacts } from '../stage-facts.ts';
import { fuelVolume, pair, shortHash, timesOf, written } from '../written.ts';
import { L_PER_US_GALLON, massShown } from '../../units/convert.ts';
import { isNotSafePage, notSafeOf, stoppedCard } from './not-safe.ts';
import type { Parts } from './page-parts.ts';
import { blankSentences } from '../../words/core/blank-sentences.ts';
import { whenDefined } from '../../defined.ts';

export function pageOne(parts: Parts): PageOne {
  const { visit, units, main, simulated } = parts;
  const times = timesOf(visit);
  const notSafe = notSafeOf(parts);
  const ended = visit.endedWallMs === undefined ? undefined : times.clock(visit.endedWallMs);
  return {
    title: notSafe === undefined ? reportWords.title : notSafeWords.title,
    visitLine: [
      reportWords.visit(visit.number),
      formatLongDay(visit.startedWallMs, visit.zoneMinutes),
      reportWords.time(times.clock(visit.startedWallMs), ended),
    ].join(' · '),
    side: sideLines(parts),
    verdict: verdictOf(parts),
    notSafe,
    card: notSafe !== undefined && main.asLeft === undefined ? shortSources(stoppedCard(parts)) : firstCard(parts),
    curveTitle: parts.stages.length > 1 ? reportWords.ofStage(main.stage.name, reportWords.curveTitle) : reportWords.curveTitle,
    curve: curvePicture(visit, main, simulated),
    curveNote: main.curve && main.curve.points.length > 0 ? onsetWords(main.curve.onset, formatsFor(units)) : undefined,
    setting: settingRows(visit, main),
    geometry: geometryLine(visit.setUp),
    saving: savingOf(main, units),
    ...termsOf(main),
    signature: signatureOf(parts),
  };
}

/** Of the stage that page 1 shows, with its name where there are several. */
function firstCard({ visit, units, main, stages }: Parts): CardTable {
  const card = shortSources(cardTable(visit, main, units));
  if (stages.length === 1) return card;
  const others = stages.filter((facts) => facts !== main).map(({ stage }) => stage.name);
  return { ...card, title: reportWords.ofStage(main.stage.name, card.title), notes: [...card.notes, reportWords.stagesBehind(others)] };
}

function shortSources(card: CardTable): CardTable {
  const { sources, place } = longSources(card.rows.flatMap(({ limit }) => limit?.source ?? []));
  if (sources.length === 0) return card;
  return {
    ...card,
    tight: place === 'record',
    rows: card.rows.map((row) => {
      const at = row.limit === undefined ? -1 : sources.indexOf(row.limit.source);
      if (row.limit === undefined || at < 0) return row;
      return { ...row, limit: { ...row.limit, source: place === 'record' ? reportWords.sourceInRecord : reportWords.sourceBelow(at + 1) } };
    }),
    notes: [
      ...card.notes,
      ...(place === 'record' ? [] : sources.map((source, index) => `${reportWords.sourceNumber(index + 1)}: ${source}.`)),
    ],
  };
}

function sideLines({ input, visit, units }: Parts): string[] {
  const { appliance, instrument } = input;
  const flow = presentValue(visit.setUp, 'nozzleFlowLh');
  const angle = presentValue(visit.setUp, 'nozzleAngleDeg');
  const pressure = presentValue(visit.setUp, 'pumpPressurePa');
  const nozzle =
    flow === undefined
      ? undefined
      : reportWords.nozzle(
          formatWithUnit('nozzleFlow', flow, units),
          angle === undefined ? undefined : `${formatPosition(angle)}°`,
          pressure === undefined ? undefined : formatWithUnit('pumpPressure', pressure, units),
        );
  const named = instrument?.instrument;
  const benchDay = instrument?.benchTest && timesOf(visit).day(instrument.benchTest.wallMs);
  return [
    appliance?.name ?? reportWords.noAppliance,
    [fuelName(visit), nozzle].filter((part) => part !== undefined).join(' · '),
    [
      named?.name ?? visit.instrumentName,
      named?.serial === undefined ? undefined : `serial ${named.serial}`,
      benchDay === undefined ? reportWords.noBenchTest : reportWords.benchTested(benchDay),
    ]
      .filter((part) => part !== undefined)
      .join(', '),
  ];
}

export const fuelName = (visit: Visit): string =>
  visit.fuelId === undefined ? reportWords.noFuel : (common.fuels[visit.fuelId] ?? visit.fuelId);

/** Safe or not comes first, then a missing reading, then the limits. */
function verdictOf({ visit, stages, main, safety, judgement, units }: Parts): PageOne['verdict'] {
  const verdicts = stages.flatMap((stage) => stage.verdicts ?? []);
  const safe = safeHeadline(judgement, formatsFor(units), testTitle, stages.length);
  const about = [
    leftOffLine(visit),
    judgement.safe === 'unknown' ? safe : undefined,
    `${smokeAndReserve(main, units)}. ${safetyLine(safety)}`,
  ]
    .filter(Boolean)
    .join(' ');
  const say = (shape: VerdictShape, headline: string): PageOne['verdict'] => ({ shape, headline, about });
  if (isNotSafePage({ judgement, visit }))
    return { shape: 'alarm', headline: notSafeWords.headline, about: reasonsOf(judgement, units, stages) };
  if (judgement.safe === 'no' && safe !== undefined) return say('alarm', safe);
  if (stages.some(({ asLeft }) => asLeft?.reading === undefined)) return say('not-known', reportWords.headline.noReading);
  if (stages.some(({ asLeft, stale }) => asLeft !== undefined && stale.has(asLeft.id))) return say('not-known', reportWords.headline.stale);
  if (verdicts.length === 0) return say('not-known', reportWords.headline.noCard);
  const overall = overallVerdict(verdicts);
  return say(overall === 'pass' && judgement.safe !== 'yes' ? 'not-known' : overall, limitsHeadline(stages));
}

const reasonsOf = ({ unsafe }: Parts['judgement'], units: UnitSystem, stages: Parts['stages']): string => {
  const said = unsafe.map((reason) => unsafeWords(reason, formatsFor(units), testTitle, stages.length)).join('; ');
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
};

/** What was done with a burner that was not safe to leave running. */
const leftOffLine = (visit: Visit): string | undefined =>
  visit.notLeftRunning === undefined || !isLeftOff(visit) ? undefined : leftOffWords.said(visit.notLeftRunning.ownerTold);

/** A limit that is missed at several stages is named once, with its stages. */
function limitsHeadline(stages: readonly StageFacts[]): string {
  const all = stages.flatMap(({ stage, verdicts = [] }) => verdicts.map((one) => ({ ...one, stage: stage.name })));
  const named = (wanted: LineVerdict['verdict']): string[] => {
    const found = all.filter(({ verdict }) => verdict === wanted);
    return [...new Set(found.map(({ line }) => line.quantity))].map((quantity) => {
      const at = found.filter(({ line }) => line.quantity === quantity).map(({ stage }) => stage);
      return stages.length === 1 ? quantityWords[quantity] : reportWords.atStages(quantityWords[quantity], at);
    });
  };
  return reportWords.headline.limits({
    pass: all.filter(({ verdict }) => verdict === 'pass').length,
    fail: named('fail'),
    close: named('too-close'),
    unknown: named('not-known'),
  });
}

function smokeAndReserve({ figuresLeft, reserve }: StageFacts, units: UnitSystem): string {
  const smoke = cardFigureText('smokeNumber', figuresLeft.smokeNumber, units);
  if (smoke === undefined) return reportWords.about.noSmoke;
  const text = reportWords.about.smoke(smoke.value);
  return (
    text + (reserve === undefined ? reportWords.about.noReserve : reportWords.about.reserve(written(pair(reserve.o2Points, reserve.half))))
  );
}

function safetyLine({ passed, failed, notApplicable, open }: SafetyFacts): string {
  if (passed.length + failed.length + notApplicable.length === 0) return reportWords.about.notBegun;
  const { about } = reportWords;
  return about.safety(
    [
      failed.length > 0 ? about.failed(failed.length) : undefined,
      about.passed(passed.length),
      notApplicable.length > 0 ? about.notApplicable(notApplicable.length) : undefined,
      open.length > 0 ? about.open(open.length) : undefined,
    ].filter((part) => part !== undefined),
  );
}

function settingRows(visit: Visit, { asFound, asLeft, echo }: StageFacts): PageOne['setting'] {
  const before = visit.settingFound ?? asFound?.setting;
  const rows = visit.adjusters.flatMap(({ name, unit }) => {
    const [was, left] = [before && positionOf(before, name), asLeft && positionOf(asLeft.setting, name)];
    if (was === undefined && left === undefined) return [];
    const write = (value: number): string => [formatPosition(value), unit].filter(Boolean).join(' ');
    return [
      {
        name: name.charAt(0).toUpperCase() + name.slice(1),
        was: was === undefined ? '' : reportWords.was(write(was)),
        left: left === undefined ? reportWords.notTaken : `${write(left)}${echo?.held === true ? `, ${reportWords.locked}` : ''}`,
      },
    ];
  });
  const head = withGeometryRows(visit.setUp).rows.headSetting;
  const left = head?.asLeft ?? head?.asFound;
  if (left === undefined || visit.adjusters.some(({ kind }) => kind === 'head')) return rows;
  const was = head?.asFound === undefined ? '' : reportWords.was(formatPosition(head.asFound));
  return [...rows, { name: 'Head', was, left: formatPosition(left) }];
}

function savingOf({ saving, conditions }: StageFacts, units: UnitSystem): PageOne['saving'] {
  if (saving === undefined || typeof saving === 'string') return { figure: undefined, text: reportWords.noSaving, more: undefined };
  if (!saving.clear) return { figure: undefined, text: reportWords.sameEfficiency(formatNumber(saving.gainExpanded, 1)), more: undefined };
  if (saving.gainPoints < 0)
    return {
      figure: undefined,
      text: reportWords.moreFuel(written(pair(Math.abs(saving.fuelSavedPercent), saving.fuelSavedExpanded), '%')),
      more: undefined,
    };
  const year = saving.yearly;
  const figure = pair(saving.fuelSavedPercent, saving.fuelSavedExpanded);
  const mass = massShown[units];
  return {
    figure,
    text: reportWords.savingFigure(written(figure, '%')),
    more:
      year &&
      reportWords.savingYear(
        fuelVolume((year.gallons / saving.fuelSavedPercent) * 100, units),
        savedFuel(year.gallons, year.gallonsExpanded, units, conditions?.fuel.densityKgPerL),
        year.co2Kg === undefined || year.co2KgExpanded === undefined
          ? undefined
          : written(pair(year.co2Kg * mass.factor, year.co2KgExpanded * mass.factor, 0), mass.unit),
      ),
  };
}

/** Gallons; in metric units litres, and kg where the fuel's density is known. */
function savedFuel(gallons: number, half: number, units: UnitSystem, densityKgPerL: number | undefined): string[] {
  const name = reportWords.fuelVolume[units];
  if (units === 'us') return [`${written(pair(gallons, half, 0))} ${name}`];
  const [litres, ofLitres] = [gallons * L_PER_US_GALLON, half * L_PER_US_GALLON];
  return [
    `${written(pair(litres, ofLitres, 0))} ${name}`,
    ...whenDefined(
      densityKgPerL,
      (densityKgPerL) => `${written(pair(litres * densityKgPerL, ofLitres * densityKgPerL, 0))} ${reportWords.fuelMass}`,
    ),
  ];
}

const lossKeys = ['lossDryGasPercent', 'lossLatentPercent', 'lossVapourPercent', 'lossAirMoisturePercent', 'lossCoPercent'] as const;

function termsOf({ asLeft, conditions }: StageFacts): Pick<PageOne, 'terms' | 'termsNote'> {
  const input = asLeft && conditions && combustionInput(asLeft, conditions);
  if (input === undefined) return { terms: undefined, termsNote: reportWords.noTerms(reportWords.noFullReading) };
  const { values, expanded, blank } = derive(input);
  const [efficiency, half] = [values.efficiencyHhvPercent, expanded.efficiencyHhvPercent];
  if (efficiency === undefined || half === undefined) {
    const why = blank.efficiencyHhvPercent;
    return { terms: undefined, termsNote: reportWords.noTerms(why === undefined ? reportWords.noFullReading : blankSentences[why]) };
  }
  const losses = lossKeys.map((key) => ({ name: reportWords.terms[key], percent: values[key] ?? 0 }));
  const text = pair(efficiency, half);
  const lhv = values.efficiencyLhvPercent;
  return {
    terms: {
      columns: [
        { label: reportWords.terms.fuel, value: formatNumber(100, 1) },
        ...losses.map(({ name, percent }) => ({ label: name, value: `−${formatNumber(Math.abs(percent), 1)}` })),
        { label: `${reportWords.terms.efficiency} ${text.half ?? ''}`, value: text.value },
      ],
      bar: {
        parts: [{ name: reportWords.terms.efficiency, percent: efficiency }, ...losses],
        label: [
          `${reportWords.terms.efficiency} ${text.value} %`,
          ...losses.map(({ name, percent }) => `${name} ${formatNumber(percent, 1)} %`),
        ].join(', '),
      },
    },
    termsNote: reportWords.termsNote(lhv === undefined ? undefined : formatNumber(lhv, 1)),
  };
}

function signatureOf({ visit }: Parts): Signature {
  const technician = visit.people.find(({ role }) => role === 'technician');
  const named = [technician?.name, technician?.licence].filter((part) => part !== undefined).join(', ');
  const { signature } = visit;
  if (signature !== undefined) {
    const later = visit.edits.length - signature.editsBefore;
    return {
      technician: [signature.name, technician?.name === signature.name ? technician.licence : undefined]
        .filter((part) => part !== undefined)
        .join(', '),
      time: timesOf(visit).dayAndTime(signature.wallMs),
      state: later > 0 ? `${reportWords.signed}. ${reportWords.corrections(later)}` : reportWords.signed,
      hash: reportWords.signatureHash(shortHash(signature.hash)),
    };
  }
  const closed = visit.kind === 'training' && visit.endedWallMs !== undefined;
  return { technician: named, time: '', state: closed ? reportWords.neverSigned : reportWords.notSigned, hash: undefined };
}

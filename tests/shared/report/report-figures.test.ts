/** The figures a report prints: on page 1, in the trend, and CO2 with its CO2max. */
import { describe, expect, it } from 'vitest';
import { createElement } from 'react';
import { TrendDrawing, type TrendPicture } from '../../../shared/report/drawings/TrendDrawing.tsx';
import { markup } from '../../../shared/report/markup.ts';
import { makeReport } from '../../../shared/report/make-report.ts';
import { reportCsv } from '../../../shared/report/report-csv.ts';
import { readReportDocument, reportDocument, reportJson } from '../../../shared/report/report-json.ts';
import type { ReportModel } from '../../../shared/report/report-model.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { recordWords } from '../../../shared/words/paper/technical-record.ts';
import type { ReportRun } from '../../../shared/report/report-input.ts';
import { inputOf, smallVisit, START } from './small-visit.ts';
import { reportOf, textOf, tableOf, number } from './report-parts.ts';

describe('figures on page 1', () => {
  const { first } = reportOf();

  // tests/golden/tables/no2_oil_efficiency_computed.csv: O2 5 % at 400 degF net, 83.40; its air temperature is not stated, hence the width
  it('give the efficiency of the table, and the terms add up to it', () => {
    const columns = first.terms?.columns ?? [];
    const last = number(columns.at(-1)?.value);
    expect(Math.abs(last - 83.4)).toBeLessThanOrEqual(0.15);
    const sum = columns.slice(0, -1).reduce((total, { value }) => total + number(value), 0);
    expect(Math.abs(sum - last)).toBeLessThan(0.3); // six roundings of at most 0.05
  });

  // the two efficiencies of the same table: 1 - 78.15 / 83.40 = 6.3 %; 700 gal a year -> 44 gal; 40 CFR 98 table C-1: 10.21 kg CO2 a gallon, 990 lb
  it('give the saving by hand', () => {
    expect(Math.abs(number(first.saving.figure?.value) - 6.3)).toBeLessThanOrEqual(0.1);
    expect(first.saving.more).toMatch(/^At 700\sgallons a year: 4[345] ±\d+ gallons, (9[6-9]\d|10[01]\d) ±\d+\slb of CO2\.$/);
  });

  it('carry the digits of their uncertainty, in the units of the visit', () => {
    const o2 = first.card.rows.find(({ label }) => label === 'O2');
    // half-width 0.3 %, rectangular: U = 2 x 0.3 / sqrt 3 = 0.35, one digit (JCGM 100, 7.2.6)
    expect(o2?.left).toEqual({ value: '5.0', half: '±0.3' });
    const stack = first.card.rows.find(({ label }) => label === 'Stack, gross');
    expect(stack?.unit).toBe('°F');
    // 25 degC + 400/1.8 K = 247.2 degC = 477 degF; U = 2 x 2 / sqrt 3 K = 2.3 K = 4.2 degF
    expect(stack?.left).toEqual({ value: '477', half: '±4' });
  });

  it('show the setting that was left beside the one that was found', () => {
    expect(first.setting).toEqual([{ name: 'Shutter', was: 'was 7', left: '4' }]);
  });

  it('put no2 oil’s onset of smoke between the smoky and the clean trial', () => {
    expect(first.curve?.onset?.o2).toBeGreaterThan(3);
    expect(first.curve?.onset?.o2).toBeLessThan(5);
    expect(first.curve?.points.filter(({ asLeft }) => asLeft).map((point) => point.number)).toEqual([4]);
  });
});

describe('a figure that fails by digits nobody sees', () => {
  const notes = (overFirePa: number): string => {
    const trials = smallVisit().trials.map((one) => (one.id === 'd' ? { ...one, draft: { overFirePa } } : one));
    return reportOf({ trials, unitPreset: 'metric' }).first.card.notes.join(' ');
  };
  // 0.02 in w.c. = 4.982 Pa (1 in w.c. = 249.089 Pa, NIST SP 811 appendix B.8); both read -5 in whole tenths
  it('is written out with the digits that decide', () => {
    expect(notes(-5)).toContain('look alike because both are rounded: −5.000\u2009Pa against −4.982\u2009Pa');
  });
  it('is left alone where the difference can be seen, or where it passes', () => {
    expect(notes(-9)).not.toContain('look alike');
    expect(notes(-4.981)).not.toContain('look alike');
  });
});

describe('the trend', () => {
  const visit = smallVisit();
  const columns = (channel: 'o2' | 'stackTemperature', values: readonly number[]) => ({
    channel,
    timeMs: values.map((_, at) => at * 60_000),
    low: [...values],
    high: values.map((value) => value + 0.2),
    breaks: [],
  });
  const run: ReportRun = {
    runId: 'run-1',
    startWallMs: START,
    zoneMinutes: 60,
    source: 'port',
    endMs: 2_400_000,
    lines: 2400,
    rejected: 0,
    startSetting: { stage: '1', positions: [{ name: 'shutter', value: 7 }] },
    series: [columns('o2', [8, 6, 3, 5]), columns('stackTemperature', [100, 200, 250, 240])],
    marks: [
      { id: 'm1', timeMs: 600_000, body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'shutter', value: 5 }] } } },
      { id: 'm2', timeMs: 700_000, body: { kind: 'smoke', spots: [{ number: 2 }] } },
    ],
    readings: visit.trials.map(({ reading }) => reading!),
    gaps: [{ fromMs: 60_000, toMs: 90_000, reason: 'silence' }],
    excluded: [{ fromMs: 2_000_000, reason: 'probe-out' }],
    settled: [
      { channel: 'o2', fromMs: 300_000, toMs: 360_000 },
      { channel: 'o2', fromMs: 2_100_000 },
      { channel: 'stackTemperature', fromMs: 1, toMs: 2 },
    ],
  };
  const pictures = (runs: readonly ReportRun[], more: Partial<Visit> = {}): TrendPicture[] =>
    makeReport(inputOf(smallVisit(more), { runs }))
      .record.flatMap(({ blocks }) => blocks)
      .flatMap((block) => (block.kind === 'trend' ? [block.picture] : []));

  it('has a strip for each channel that was read, in the units of the visit, with every reading where it was taken', () => {
    const [picture] = pictures([run]);
    expect(picture!.strips.map(({ title, ink }) => [title, ink])).toEqual([
      ['O2 %', 'o2'],
      ['Stack °F', 'stack'],
    ]);
    const [o2, stack] = picture!.strips;
    expect(o2!.readings.map(({ timeMs, value }) => [timeMs / 60_000, value])).toEqual([
      [5, 8],
      [15, 6],
      [25, 3],
      [35, 5],
    ]);
    // 100 degC = 212 degF
    expect(stack!.low[0]).toBeCloseTo(212, 9);
    expect(stack!.readings[0]!.value).toBeCloseTo((25 + 500 / 1.8) * 1.8 + 32, 6);
  });
  it('says of several runs which is which, each from its own start', () => {
    const later = { ...run, startWallMs: START + 3_600_000 };
    const { blocks } = makeReport(inputOf(smallVisit(), { runs: [run, later] })).record.find(({ title }) => title === recordWords.trend)!;
    const headings = blocks.flatMap((block) => (block.kind === 'heading' ? [block.text] : []));
    // 13:00 UTC at UTC+1, 40 minutes long
    expect(headings).toEqual([recordWords.trendOf(1, 2, '14:00', '14:40'), recordWords.trendOf(2, 2, '15:00', '15:40')]);
  });
  it('marks the reading as left, and no other; none where another run holds it', () => {
    const asLeft = (picture: TrendPicture | undefined) => picture!.strips[0]!.readings.map((reading) => reading.asLeft);
    expect(asLeft(pictures([run])[0])).toEqual([false, false, false, true]);
    expect(asLeft(pictures([{ ...run, runId: 'run-2' }])[0])).toEqual([false, false, false, false]);
    const none = pictures([run], { stages: [{ name: '1' }] })[0];
    expect(asLeft(none)).toEqual([false, false, false, false]);
  });
  it('shades what was settled of each channel; what was open at the end of the run ends with it', () => {
    const [picture] = pictures([run]);
    expect(picture!.strips[0]!.settled).toEqual([
      { fromMs: 300_000, toMs: 360_000 },
      { fromMs: 2_100_000, toMs: 2_400_000 },
    ]);
    expect(picture!.strips[1]!.settled).toEqual([{ fromMs: 1, toMs: 2 }]);
    expect([picture!.gaps, picture!.excluded]).toEqual([[{ fromMs: 60_000, toMs: 90_000 }], [{ fromMs: 2_000_000, toMs: 2_400_000 }]]);
  });
  it('tells changes of the burner from looks at it', () => {
    const [picture] = pictures([run]);
    expect(picture!.marks.map(({ timeMs, kind }) => [timeMs, kind])).toEqual([
      [600_000, 'change'],
      [700_000, 'look'],
    ]);
  });
  it('leaves a channel out that was read less than twice, and says where nothing can be drawn', () => {
    const once = { ...run, series: [columns('o2', [8, 6]), columns('stackTemperature', [100])] };
    expect(pictures([once])[0]!.strips.map(({ ink }) => ink)).toEqual(['o2']);
    expect(pictures([{ ...run, series: [columns('o2', [8])] }])).toEqual([]);
  });

  const markTexts = (marks: TrendPicture['marks'], more: Partial<TrendPicture> = {}): string[] => {
    const picture: TrendPicture = {
      fromMs: 0,
      toMs: 1000,
      strips: [],
      marks,
      rowNames: { change: undefined, look: undefined },
      gaps: [],
      excluded: [],
      timeTicks: [],
      label: 'trend',
      simulated: undefined,
      ...more,
    };
    const drawn = markup(createElement(TrendDrawing, { picture }));
    return [...drawn.matchAll(/<text class="mark[^>]*>([^<]*)</g)].map(([, text]) => text ?? '');
  };
  const change = (timeMs: number, value: number): TrendPicture['marks'][number] => ({
    timeMs,
    text: `shutter ${value}`,
    short: String(value),
    kind: 'change',
  });
  it('shortens the name of a mark where the next one comes soon, and leaves it out where not even that fits', () => {
    expect(markTexts([change(100, 6), change(150, 5), change(160, 4), change(500, 3)])).toEqual(['6', 'shutter 4', 'shutter 3']);
  });
  it('says what all marks of a row are about once, before the row', () => {
    expect(markTexts([change(100, 6), change(500, 5)], { rowNames: { change: 'shutter', look: undefined } })).toEqual([
      'shutter',
      '6',
      '5',
    ]);
  });
});

describe('CO2 and the CO2max it is computed with', () => {
  // Siegert's relation: 15.2 (1 - 5/20.95) = 11.57; with the fuel's own 15.494: 11.80
  const csvOf = (visit: Visit): string[][] =>
    reportCsv(inputOf(visit), 'semicolon')
      .slice(1)
      .trimEnd()
      .split('\r\n')
      .map((line) => line.split(';').map((cell) => cell.replaceAll('"', '').replace(/^(\d+),(\d+)$/, '$1.$2')));
  const last = (visit: Visit, name: RegExp): string | undefined => {
    const rows = csvOf(visit);
    return rows.at(-1)?.[rows[0]?.findIndex((cell) => name.test(cell)) ?? -1];
  };
  it('stands on paper with where it came from, and changes no efficiency', () => {
    const [own, set] = [reportOf(), reportOf({ co2MaxPercent: 15.2 })];
    expect(textOf(own.record)).toContain('with a CO2max of 15.5 %, from the fuel');
    expect(textOf(set.record)).toContain('with a CO2max of 15.2 %, set on this visit; this fuel’s own is 15.5 %');
    expect(textOf(set.record)).toContain('Losses and efficiency are computed from O2');
    expect(textOf(own.record)).not.toContain('Losses and efficiency are computed from O2');
    expect(set.first.terms).toEqual(own.first.terms);
    expect(set.first.saving).toEqual(own.first.saving);
    const column = (report: ReportModel): (string | undefined)[] => tableOf(report, 'Trials').map((cells) => cells[3]);
    expect(column(own).at(-1)).toBe('11.8');
    expect(column(set).at(-1)).toBe('11.6');
  });
  it('is in the CSV and in the JSON', () => {
    const visit = smallVisit({ co2MaxPercent: 15.2 });
    expect(Number(last(visit, /^CO2 computed/))).toBeCloseTo(11.57, 1);
    expect(Number(last(smallVisit(), /^CO2 computed/))).toBeCloseTo(11.8, 1);
    expect([last(visit, /^CO2 max/), last(visit, /^CO2max from/)]).toEqual(['15.2', 'set on this visit']);
    expect([last(smallVisit(), /^CO2 max/), last(smallVisit(), /^CO2max from/)]).toEqual(['15.494', 'from the fuel']);
    expect(reportDocument(inputOf(visit)).results.co2Max).toEqual({ percent: 15.2, from: 'visit' });
    expect(reportDocument(inputOf(smallVisit())).results.co2Max?.from).toBe('fuel');
    const read = readReportDocument(reportJson(inputOf(visit)));
    expect(read.ok && read.value.visit.co2MaxPercent).toBe(15.2);
  });
});

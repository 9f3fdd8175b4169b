import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { csvRow } from '../../../shared/format/csv.ts';
import { makeReport } from '../../../shared/report/make-report.ts';
import { SetUpSheet } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import { usualWorstRule } from '../../../shared/tuning/safety/venting.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { reportCsv } from '../../../shared/report/report-csv.ts';
import { reportHtml } from '../../../shared/report/pages/report-html.tsx';
import { readReportDocument, reportDocument, reportJson, reportSchema } from '../../../shared/report/report-json.ts';
import { inputOf, smallVisit, START } from './small-visit.ts';

const noFonts = { sans: undefined, mono: undefined };
const appliance = { format: 1 as const, kind: 'furnace' as const, name: '' };
const nasty = '<script>alert(1)</script>" onload="x\\';

/** RFC 4180, section 2, rules 5 to 7: quoted cells may hold separators, line ends and doubled quotes. */
function parseCsv(text: string, separator: string): string[][] {
  const rows: string[][] = [[]];
  let cell = '';
  let isQuoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at] ?? '';
    if (isQuoted) {
      if (sign === '"' && text[at + 1] === '"') cell += text[(at += 1)] ?? '';
      else if (sign === '"') isQuoted = false;
      else cell += sign;
    } else if (sign === '"') isQuoted = true;
    else if (sign === separator || text.startsWith('\r\n', at)) {
      rows.at(-1)?.push(cell);
      cell = '';
      if (sign !== separator) {
        at += 1;
        rows.push([]);
      }
    } else cell += sign;
  }
  return rows.slice(0, -1);
}

describe('CSV', () => {
  it('has one row a trial, the same number of cells in each, and units in the header', () => {
    const rows = parseCsv(reportCsv(inputOf(smallVisit()), 'comma'), ',');
    expect(rows).toHaveLength(5);
    expect(new Set(rows.map((row) => row.length)).size).toBe(1);
    const column = rows[0]?.indexOf('Stack, gross [°F]') ?? -1;
    expect(Number(rows[4]?.[column])).toBeCloseTo(477, 0);
  });
  it('marks what measured nothing in its first line', () => {
    const csv = reportCsv(inputOf(smallVisit({ runs: [{ id: 'run-1', startWallMs: START, source: 'simulated' }] })), 'comma');
    expect(csv.startsWith('"SIMULATED DATA, NOT A MEASUREMENT"')).toBe(true);
  });
  it('takes decimal commas and a byte order mark with semicolons', () => {
    const csv = reportCsv(inputOf(smallVisit({ unitPreset: 'metric' })), 'semicolon');
    expect(csv.charCodeAt(0)).toBe(0xfeff);
    const rows = parseCsv(csv.slice(1), ';');
    expect(rows[4]?.[rows[0]?.indexOf('Stack, gross [°C]') ?? -1]).toBe('247,22');
  });
  it('has what was set with the gauge as numbers in every row, and in a row of its own where no trial was taken', () => {
    const setUp = SetUpSheet.parse({
      lengthUnit: 'inch',
      rows: {},
      geometry: {
        rows: {
          heightAboveCentreline: { asFound: '7/16', asLeft: '12.7 mm' },
          headSetting: { asLeft: '2' },
          electrodeGap: { asFound: '5/0' },
        },
      },
    });
    for (const trials of [smallVisit().trials, []]) {
      const rows = parseCsv(reportCsv(inputOf(smallVisit({ setUp, trials })), 'comma'), ',');
      const [header, first] = rows;
      expect(new Set(rows.map(({ length }) => length)).size).toBe(1);
      expect(header?.slice(-3)).toEqual([
        'Height above centreline, as found [in]',
        'Height above centreline, as left [in]',
        'Head setting, as left',
      ]);
      // 12.7 mm is 1/2 in exactly (NIST SP 811); 5/0 is no figure and has no column
      expect(first?.slice(-3)).toEqual(['0.4375', '0.5', '2']);
      expect(rows).toHaveLength(1 + Math.max(1, trials.length));
    }
  });
  it('has air and venting, and the spot before the probe, in every row and in the record', () => {
    const phase = (mean: number) => ({ mean, half: 0.2, seconds: 120 });
    const venting: Visit['venting'] = {
      checks: [
        { item: 'pitch', result: 'fail', wallMs: 1 },
        { item: 'pitch', result: 'pass', note: 'joint remade', wallMs: 2 },
      ],
      worstCases: [
        {
          runId: 'run-1',
          startWallMs: START,
          offFromMs: 0,
          rule: usualWorstRule,
          off: { draftPa: phase(-6), roomCoPpm: phase(1) },
          on: { draftPa: phase(-1), roomCoPpm: phase(2) },
          savedWallMs: START,
        },
      ],
    };
    const visit = smallVisit({
      unitPreset: 'metric',
      venting,
      probeSmoke: [{ wallMs: 1, spots: [{ number: 0.5 }, { number: 1, flaw: 'wet' }] }],
    });
    for (const one of [visit, { ...visit, trials: [] }]) {
      const [header, first] = parseCsv(reportCsv(inputOf(one), 'comma'), ',');
      const of = (name: string): string | undefined => first?.[header?.indexOf(name) ?? -1];
      expect(of('Smoke before the probe')).toBe('0.5, 1 (wet)');
      expect(of('Pitch of the flue')).toBe('pass, joint remade');
      expect([of('Worst case, Draft, fans off [Pa]'), of('Worst case, Draft, fans on [Pa]'), of('Worst case, Draft, change [Pa]')]).toEqual(
        ['-6', '-1', '5'],
      );
      // -1 Pa is weaker than the 2.5 Pa of suction that the rule asks for (NORA, Advanced Efficiency, p 43)
      expect(of('Worst case, verdict')).toBe('fails');
    }
    const read = readReportDocument(reportJson(inputOf(visit)));
    expect(read.ok && read.value.results.venting).toMatchObject({
      failed: ['worst-case'],
      worstCases: [{ verdict: 'fail', lines: [{ quantity: 'draftPa', off: -6, on: -1, change: 5, limit: -2.5, verdict: 'fail' }, {}, {}] }],
    });
    expect(read.ok && read.value.visit.probeSmoke).toEqual(visit.probeSmoke);
    // nothing looked at: no column, and no result
    expect(reportCsv(inputOf(smallVisit()), 'comma')).not.toContain('Worst case');
  });
  // the signs that spreadsheets start a formula with: OWASP, CSV injection (from memory)
  it.each(['=1+1', '+1', '-1+cmd', '@sum(a1)', '\t=1', '\r=1'])('defuses %j', (text) => {
    const csv = reportCsv(inputOf(smallVisit(), { appliance: { ...appliance, name: text } }), 'comma');
    const cell = parseCsv(csv, ',')[1]?.[2];
    expect(cell?.startsWith("'")).toBe(true);
  });
  it('leaves negative numbers numbers', () => {
    expect(csvRow([-4.5, '-4.5'], 'comma')).toBe("-4.5,'-4.5\r\n");
  });
});

describe('JSON', () => {
  it('comes back as it was written', () => {
    const input = inputOf(smallVisit());
    const read = readReportDocument(reportJson(input));
    expect(read.ok && read.value).toEqual(reportDocument(input));
  });
  it.each([
    ['from a newer program', { format: 'flueside-report', version: 2 }, 'file-newer'],
    ['of something else', { format: 'other', version: 1 }, 'file-foreign'],
    ['with its visit missing', { format: 'flueside-report', version: 1 }, 'file-damaged'],
  ])('is refused %s', (_, value, code) => {
    const read = readReportDocument(JSON.stringify(value));
    expect(read.ok ? '' : read.error.code).toBe(code);
  });
  it('is refused when cut short', () => {
    const read = readReportDocument(reportJson(inputOf(smallVisit())).slice(0, 500));
    expect(read.ok ? '' : read.error.code).toBe('file-damaged');
  });
  it('puts the watermark first', () => {
    const json = reportJson(inputOf(smallVisit({ runs: [{ id: 'run-1', startWallMs: START, source: 'replay' }] })));
    expect(json.indexOf('"watermark"')).toBeLessThan(10);
  });
  it('has a schema that others can read, and keeps to it', () => {
    const schema = reportSchema() as Parameters<typeof z.fromJSONSchema>[0];
    expect(schema).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema', type: 'object' });
    const outside = z.fromJSONSchema(schema);
    expect(outside.safeParse(JSON.parse(reportJson(inputOf(smallVisit())))).success).toBe(true);
    expect(outside.safeParse({ format: 'flueside-report' }).success).toBe(false);
  });
});

describe('the page', () => {
  const html = (visit = smallVisit(), name = 'Boiler'): string =>
    reportHtml(makeReport(inputOf(visit, { appliance: { ...appliance, name } })), { paper: 'a4', fonts: noFonts });

  it('runs nothing and loads nothing, whatever was typed', () => {
    const page = html(smallVisit({ notes: [{ wallMs: START, text: nasty }], people: [{ role: 'technician', name: nasty }] }), nasty);
    expect(page).not.toContain('<script');
    expect(page).not.toMatch(/ onload="/);
    expect(page).not.toMatch(/(src|href)=|url\((?!#)|@import/);
    expect(page).toContain('&lt;script&gt;');
  });
  it('keeps typed text out of the style, too', () => {
    const model = makeReport(inputOf(smallVisit()));
    const page = reportHtml(
      { ...model, tape: '"}</style><b>', foot: { cautions: '\\"</style>', run: '' } },
      { paper: 'a4', fonts: noFonts },
    );
    expect(page.match(/<\/style>/g)).toHaveLength(1);
  });
  it('has one heading of each part, in order, so that readers and the outline find them', () => {
    const levels = [...html().matchAll(/<h([1-3])/g)].map(([, level]) => Number(level));
    expect(levels[0]).toBe(1);
    expect(levels.filter((level) => level === 1)).toHaveLength(3);
  });
  it('names every drawing for who cannot see it', () => {
    const drawings = [...html().matchAll(/<svg[^>]*>/g)].map(([tag]) => tag);
    expect(drawings.length).toBeGreaterThan(8);
    // a sign whose word stands beside it is not read out twice
    expect(drawings.every((tag) => /role="img" aria-label="[^"]|aria-hidden="true"/.test(tag))).toBe(true);
    expect(drawings.filter((tag) => tag.includes('role="img"')).length).toBeGreaterThan(3);
  });
  it.each([
    ['a4', 'size:A4'],
    ['letter', 'size:letter'],
  ] as const)('is set for %s', (paper, words) => {
    expect(reportHtml(makeReport(inputOf(smallVisit())), { paper, fonts: noFonts })).toContain(words);
  });
  it('gives no number that is none', () => {
    expect(html()).not.toMatch(/NaN|undefined|Infinity/);
  });
  it('carries the cautions and the page numbers in the foot of every page', () => {
    const page = html();
    expect(page).toContain('counter(page)');
    expect(page).toMatch(/@bottom-left\{content:"CO in the room: 9 ppm[^"]*35 ppm burner off[^"]*100 ppm everybody out/);
  });
});

/** What must never wrap or overlap on paper, seen without a browser. */
import { describe, expect, it } from 'vitest';
import { makeReport } from '../../../shared/report/make-report.ts';
import { comparisonHtml } from '../../../shared/report/comparison/comparison-html.tsx';
import { withSharedHalves } from '../../../shared/report/record/trials.ts';
import type { Block, Column } from '../../../shared/report/report-model.ts';
import { reportHtml } from '../../../shared/report/pages/report-html.tsx';
import { inventedVisits, type InventedVisit } from '../../paper/visits.ts';
import { inputOf, smallVisit } from './small-visit.ts';

const noFonts = { sans: undefined, mono: undefined };
const names = Object.keys(inventedVisits) as InventedVisit[];

describe('a figure and its ±', () => {
  /** every ± of the page must stand inside an element that does not wrap: its text, with all that is nested in it, holds the figure, too */
  const loose = (html: string): string[] => {
    const cells = html.match(/<(td|th)\b[^>]*>.*?<\/\1>/gs) ?? [];
    return cells.filter((cell) => {
      // what is read out instead of a drawing is no text on the page
      const text = cell.replace(/ aria-label="[^"]*"/g, '').replace(/<span class="figure">.*?<\/span>/gs, '');
      return /\d\s*(<i>)?\s*±/.test(text);
    });
  };
  it.each(names)('never part in a table: %s', (name) => {
    const html = reportHtml(makeReport(inventedVisits[name]()), { paper: 'a4', fonts: noFonts, annex: true });
    expect(loose(html)).toEqual([]);
    if (name !== 'empty') expect(html).toMatch(/<span class="figure">[^<]*<i> ±/);
  });
  it('is seen by this test when it may part', () => {
    expect(loose('<td class="r">5.1 <i>±0.3</i></td>')).toHaveLength(1);
  });

  const columns: Column[] = [
    { label: 'trial', width: 1 },
    { label: 'O2', figures: true, width: 1 },
  ];
  it('moves the ± to the head of its column where it is the same for all', () => {
    const { head, body } = withSharedHalves(columns, [
      ['1', { text: '5.1', half: '±0.3' }],
      ['2', { text: '6.0', half: '±0.3' }],
      ['3', '–'],
    ]);
    expect(head[1]?.half).toBe('±0.3');
    expect(body[0]?.[1]).toMatchObject({ text: '5.1', half: undefined });
  });
  it('leaves it with the figure where one of them differs, or has none', () => {
    for (const other of [{ text: '6.0', half: '±0.4' }, { text: '6.0' }]) {
      const { head, body } = withSharedHalves(columns, [
        ['1', { text: '5.1', half: '±0.3' }],
        ['2', other],
      ]);
      expect(head[1]?.half).toBeUndefined();
      expect(body[0]?.[1]).toMatchObject({ half: '±0.3' });
    }
  });
});

describe('tables', () => {
  it('have a width for every column, so that no text decides it', () => {
    const html = reportHtml(makeReport(inventedVisits.worst()), { paper: 'letter', fonts: noFonts, annex: true });
    const tables = html.match(/<table\b.*?<\/table>/gs) ?? [];
    expect(tables.length).toBeGreaterThan(5);
    for (const table of tables) {
      const cells = Math.max(...(table.match(/<tr>.*?<\/tr>/gs) ?? []).map((row) => row.match(/<t[dh]\b/g)?.length ?? 0));
      expect(table.match(/<col style/g)).toHaveLength(cells);
    }
  });
});

describe('the record', () => {
  it('sets hashes in groups of four', () => {
    const { record } = makeReport(inventedVisits.routine());
    const hashes = record
      .flatMap(({ blocks }) => blocks)
      .filter((block): block is Extract<Block, { kind: 'hash' }> => block.kind === 'hash');
    expect(hashes).toHaveLength(2);
    for (const { text } of hashes) expect(text).toMatch(/^([0-9a-f]{4} ){15}[0-9a-f]{4}$/);
  });
  it('leaves edits and cautions to the annex, which is printed only on request', () => {
    const model = makeReport(inventedVisits.routine());
    const options = { paper: 'a4', fonts: noFonts } as const;
    const caution = 'Flue, probe and door are hot.';
    expect(reportHtml(model, options)).not.toContain(caution);
    expect(reportHtml(model, options)).toContain('45 edits and 17 acknowledged cautions');
    expect(reportHtml(model, { ...options, annex: true })).toContain(caution);
  });
  it('puts what one person changed on one screen within a minute on one line', () => {
    const edits = [1000, 2000, 62_000].map((ms, index) => ({
      wallMs: 1_795_000_020_000 + ms,
      by: 'A. Sample',
      path: ['setUp', 'rows', 'electrodeGapMm', 'asLeft'],
      before: undefined,
      after: 3 + index,
    }));
    const { annex } = makeReport(inputOf(smallVisit({ edits })));
    const lists = annex.blocks.flatMap((block) => (block.kind === 'list' ? [block.items] : []));
    expect(lists[0]).toHaveLength(2);
  });
});

describe('a visit at two stages on paper', () => {
  const { first, record } = makeReport(inventedVisits['two-stage']());

  it('names a limit that is missed at both once, with its stages', () => {
    expect(first.verdict.headline).toBe('Draft over the fire (stages 1 and 2) fails. Ten limits met.');
  });

  it('has the stage of a trial in a column of its own, and its first cell in one piece', () => {
    const table = record.flatMap(({ blocks }) => blocks).find((block) => block.kind === 'table' && block.columns[0]?.label === 'trial');
    if (table?.kind !== 'table') throw new Error('no trials');
    expect(table.columns[1]?.label).toBe('stage');
    expect(table.rows.map((row) => row[1])).toEqual([...Array<string>(8).fill('1'), ...Array<string>(8).fill('2')]);
    expect(table.rows[0]?.[0]).toMatchObject({ text: '1, as\u00a0found' });
  });

  it('has the maker’s tolerance with its ±', () => {
    const cells = record.flatMap(({ blocks }) => blocks).flatMap((block) => (block.kind === 'table' ? block.rows.flat() : []));
    expect(cells).toContainEqual(expect.objectContaining({ half: expect.stringMatching(/^±0\.5/) as string }));
  });
});

describe('page 1 of a burner that was left off', () => {
  const { first, record } = makeReport(inventedVisits['left-off']());
  it('says so first, then what is known with its times, and what comes before it runs again', () => {
    expect(first.title).toBe('Burner check');
    expect(first.verdict).toMatchObject({ shape: 'alarm', headline: 'Not safe to leave running. Left off.' });
    expect(first.verdict.about).toBe('CO in the room 60\u2009ppm; failed test: flame failure to lockout; 2 safety tests not done.');
    const known = first.notSafe?.known.map(({ sign, name, value, limit }) => [sign, name, value?.value, limit]);
    expect(known).toEqual([
      ['fail', 'CO in the room, boiler room, burner running', '60', 'from 35: burner off'],
      ['fail', 'Flame failure to lockout', '21.4', 'at most 15\u00a0s, on the control'],
      ['open', 'High limit; three restarts', 'not done', ''],
    ]);
    expect(first.notSafe?.known.slice(0, 2).every(({ when }) => /^\d\d:\d\d$/.test(when))).toBe(true);
    expect(first.notSafe?.left.map(({ name, about }) => [name, about]).at(-1)).toEqual(['Told', 'M. Sample, owner, in person']);
    expect(first.notSafe?.before).toHaveLength(3);
  });
  it('judges what was found, and leaves the column of what was left away', () => {
    expect(first.card).toMatchObject({ title: 'As-found, before it was stopped', foundOnly: true });
    expect(first.card.rows.find(({ label }) => label === 'O2')?.verdict?.shape).toBe('fail');
    expect(reportHtml(makeReport(inventedVisits['left-off']()), { paper: 'letter', fonts: noFonts })).not.toContain('as-left</th>');
  });
  it('has its air curve in the record instead', () => {
    const drawn = record.flatMap(({ blocks }) => blocks).filter(({ kind }) => kind === 'air-curve');
    expect(drawn).toHaveLength(1);
  });
  it('is for that burner alone: tests that are still to be made change no page', () => {
    expect(makeReport(inventedVisits.routine()).first.notSafe).toBeUndefined();
    expect(makeReport(inputOf(smallVisit({ safety: [] }))).first.notSafe).toBeUndefined();
  });
});

describe('the column of the readings', () => {
  it('never parts a word from its time', () => {
    const { record } = makeReport(inventedVisits.worst());
    const cells = record
      .flatMap(({ blocks }) => blocks)
      .flatMap((block) => (block.kind === 'table' && block.columns.at(-1)?.label === 'reading' ? block.rows : []))
      .map((row) => row.at(-1));
    expect(cells).toContainEqual(expect.stringMatching(/^by\u00a0hand\u00a0\d\d:\d\d$/));
    expect(cells.filter((cell) => typeof cell === 'string' && cell.includes(' '))).toEqual([]);
  });
});

describe('the card at the burner', () => {
  it('says what was left, in the units of the report', () => {
    const { label } = makeReport({ ...inventedVisits.routine(), units: 'us' });
    expect(label.rows.map(({ name }) => name)).toEqual(expect.arrayContaining(['Nozzle', 'Oil pressure', 'Shutter, band']));
    // one weight for every unit
    expect(label.rows.find(({ name }) => name === 'Oil pressure')).toMatchObject({ value: '140', unit: 'psi' });
    expect(label.warning).toBeUndefined();
    expect(label.due.text).toBe('30 November 2027');
  });
  it('warns when the burner was left off, and when the figures are of an exercise', () => {
    expect(makeReport(inventedVisits['left-off']()).label.warning).toContain('Do not run it');
    expect(makeReport(inventedVisits.training()).label.warning).toContain('Exercise');
  });
});

describe('the comparison sheet', () => {
  it('sets visits in the order of their days, unsigned ones marked', () => {
    const first = smallVisit();
    const later = smallVisit({ id: 'visit-2', number: 51, startedWallMs: first.startedWallMs + 366 * 86_400_000 });
    const html = comparisonHtml({ visits: [later, first], units: 'us' }, { paper: 'letter', fonts: noFonts });
    expect(html.indexOf('Visit 42')).toBeGreaterThan(0);
    expect(html.indexOf('Visit 42')).toBeLessThan(html.indexOf('Visit 51'));
    expect(html).toContain('not signed');
    expect(html).not.toContain('not compared');
  });
  it('says what of them is not to be compared', () => {
    const first = smallVisit();
    const later = smallVisit({ number: 51, startedWallMs: first.startedWallMs + 366 * 86_400_000, fuelId: 'b20' });
    const html = comparisonHtml({ visits: [later, first], units: 'us' }, { paper: 'letter', fonts: noFonts });
    expect(html).toMatch(/Visit 42 burned [^<]*, visit 51 [^<]*: gas, smoke and stack are not compared/);
  });
});

describe('a reading by hand', () => {
  const note = 'By hand: taken before it was settled.';
  const pages = (settled: boolean): string => {
    const [first, ...others] = smallVisit().trials;
    if (first?.reading === undefined) throw new Error('no reading');
    const trials = [{ ...first, reading: { ...first.reading, settled } }, ...others];
    return reportHtml(makeReport(inputOf({ ...smallVisit(), trials })), { paper: 'a4', fonts: noFonts, annex: true });
  };
  it('is two words in its narrow column, and what they mean is said below the table', () => {
    expect(pages(false)).toMatch(/>by\u00a0hand\u00a0\d\d:\d\d</);
    expect(pages(false)).toContain(note);
  });
  it('is not spoken of where there is none', () => {
    expect(pages(true)).not.toContain(note);
  });
});

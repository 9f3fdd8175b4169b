import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/geometry.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { runCommand } from './run-command.ts';

type Item = { item: string; verdict: string; why?: string; measured: string | null; stale_because: string | null; value_mm?: number };

const folder = mkdtempSync(join(tmpdir(), 'flueside-geometry-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string, content: unknown): string => {
  const path = join(folder, name);
  writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
  return path;
};
const card = file('card.json', trainingCards[1]);

describe('geometry', () => {
  it('gives a verdict, a direction and what is stale', async () => {
    const sheet = file('sheet.json', {
      lengthUnit: 'inch',
      burner: { tubeEnd: 'straight', arrangement: 'two', nozzleFlow: '0.70' },
      measured: { electrodeGap: '1/8', heightAboveCentreline: '7/16', headToTubeEnd: '3/4', headSetting: 3 },
      changed: ['zero'],
    });
    const { code, out } = await runCommand(command, [card, '--measured', sheet, '--json']);
    expect(code).toBe(0);
    const result = JSON.parse(out.join('\n')) as {
      items: { item: string; verdict: string; direction?: string; words: string }[];
      stale: { what: string }[];
    };
    const of = (item: string) => result.items.find((one) => one.item === item);
    expect(of('electrodeGap')).toMatchObject({ verdict: 'pass' });
    expect(of('heightAboveCentreline')).toMatchObject({
      verdict: 'fail',
      direction: 'raise-tips',
      words: '1/16\u2009in too low. Raise both tips.',
    });
    expect(of('headToTubeEnd')).toMatchObject({ verdict: 'fail', direction: 'move-head-forward' });
    expect(of('headSetting')).toMatchObject({ verdict: 'fail', words: '1 too high. Set it to 2.' });
    expect(of('nozzleToHead')).toMatchObject({ verdict: 'not-measured' });
    expect(result.stale.map(({ what }) => what)).toEqual(['headSetting', 'readings']);
  });
  it.each([
    ['of a later version', 'newer.json', { ...trainingCards[1], version: 2, more: 1 }, 'newer Flueside'],
    ['that is bigger than any', 'big.json', { ...trainingCards[1], notes: 'x'.repeat(1_100_000) }, 'bigger than any card'],
    ['that is something else', 'other.json', { format: 'letter' }, 'not a figures card'],
  ])('refuses a card %s, and says so', async (_, name, content, says) => {
    const sheet = file('plain.json', { lengthUnit: 'inch', measured: { electrodeGap: '1/8' } });
    const { code, out, errors } = await runCommand(command, [file(name, content), '--measured', sheet]);
    expect(code).toBe(1);
    expect(out).toEqual([]);
    expect(errors.join(' ')).toContain(says);
    expect(errors.join(' ')).not.toContain('Use the command line');
  });
  it('refuses a card that contradicts itself, in words and with code 1', async () => {
    const conflict = {
      ...trainingCards[1],
      byFlow: {
        unit: 'gph',
        rows: [
          { from: '0.8', to: '1.0', headSetting: '3' },
          { from: '1.0', to: '1.2', headSetting: '4' },
        ],
      },
    };
    const sheet = file('plain.json', { lengthUnit: 'inch', measured: {} });
    const { code, errors } = await runCommand(command, [file('conflict.json', conflict), '--measured', sheet]);
    expect(code).toBe(1);
    expect(errors.join()).toContain('1.0 is in two rows');
  });
  it.each([
    ['no JSON', 'hello'],
    ['another format', { format: 'something-else' }],
    ['an unknown item', { ...trainingCards[1], figures: [{ item: 'sparkColour', figure: { low: '1' } }] }],
  ])('refuses a card file with %s', async (_, content) => {
    const sheet = file('plain.json', { lengthUnit: 'inch', measured: {} });
    const { code, errors } = await runCommand(command, [file('bad.json', content), '--measured', sheet]);
    expect(code).toBe(1);
    expect(errors.join()).toContain('not a figures card');
  });

  const judged = async (
    cardChange: object,
    sheetChange: object,
  ): Promise<{ code: number; of: (item: string) => Item; errors: string[] }> => {
    const paths = [
      file('a-card.json', { ...trainingCards[1], ...cardChange }),
      file('a-sheet.json', { lengthUnit: 'inch', measured: {}, ...sheetChange }),
    ];
    const { code, out, errors } = await runCommand(command, [paths[0]!, '--measured', paths[1]!, '--json']);
    const { items } = JSON.parse(out.join('\n')) as { items: Item[] };
    return { code, of: (item) => items.find((one) => one.item === item)!, errors };
  };
  it.each([
    { name: '5/0', unit: 'inch', typed: '5/0' },
    { name: 'a fraction on a sheet in mm', unit: 'mm', typed: '1 3/8' },
    { name: 'a fraction of mm', unit: 'inch', typed: '1 3/8 mm' },
    { name: 'a length below zero', unit: 'inch', typed: '-1/8' },
    { name: 'mm typed into a sheet in inches', unit: 'inch', typed: '3.5' },
    { name: 'another unit', unit: 'mm', typed: '0.35 cm' },
  ])('shows $name as it was typed, without a verdict', async ({ unit, typed }) => {
    const { code, of } = await judged({}, { lengthUnit: unit, measured: { electrodeGap: typed } });
    expect(code).toBe(0);
    expect(of('electrodeGap')).toMatchObject({ measured: typed, verdict: 'unreadable' });
    expect(of('electrodeGap').value_mm).toBeUndefined();
  });
  const gap = { item: 'electrodeGap', figure: { nominal: '1/8', tolerance: '1/32' } };
  const height = { item: 'heightAboveCentreline', figure: { nominal: '1/2', tolerance: '1/32' } };
  it.each([
    { name: 'limits the wrong way round', figures: [{ item: 'electrodeGap', figure: { low: '5/32', high: '1/8' } }] },
    { name: 'two figures for one burner', figures: [gap, { ...gap, figure: { low: '1/4' } }] },
    {
      name: 'a figure by tube end and one by electrodes',
      figures: [
        { ...gap, for: { tubeEnd: 'straight' } },
        { ...gap, for: { arrangement: 'two' }, figure: { low: '1/4' } },
      ],
    },
    { name: 'a tolerance and limits', figures: [{ item: 'electrodeGap', figure: { nominal: '1/8', tolerance: '1/32', low: '1/16' } }] },
    { name: 'a tolerance without its figure', figures: [{ item: 'electrodeGap', figure: { tolerance: '1/32' } }] },
    { name: 'mm in a card in inches', figures: [{ item: 'electrodeGap', figure: { nominal: '3.5', tolerance: '0.5' } }] },
  ])('judges nothing by a card with $name, says so, and judges the rest', async ({ figures }) => {
    const { code, of, errors } = await judged(
      { figures: [...figures, height] },
      { burner: { tubeEnd: 'straight', arrangement: 'two' }, measured: { electrodeGap: '1/8', heightAboveCentreline: '1/2' } },
    );
    expect(code).toBe(1);
    // a failure says why in one plain line, whatever the form of the results
    expect(errors).toHaveLength(1);
    expect(errors[0]).not.toContain('\n');
    expect(errors[0]).not.toBe('');
    expect(of('electrodeGap')).toMatchObject({ measured: '1/8', verdict: 'no-figure', why: 'card-contradicts', value_mm: 3.175 });
    expect(of('heightAboveCentreline').verdict).toBe('pass');
  });
  it('judges nothing by a setting that the figures and the table by flow both have', async () => {
    const { code, of } = await judged(
      { figures: [{ item: 'headSetting', figure: { nominal: '7', tolerance: '1' } }] },
      { burner: { tubeEnd: 'straight', arrangement: 'two', nozzleFlow: '0.70' }, measured: { headSetting: '2' } },
    );
    expect([code, of('headSetting').why]).toEqual([1, 'card-contradicts']);
  });
  it('judges nothing by a card that is for another burner', async () => {
    const measured = { electrodeGap: '7/64', headToTubeEnd: '11/16' };
    const { of } = await judged({ tubeEnds: ['straight'] }, { burner: { tubeEnd: 'conical', arrangement: 'two' }, measured });
    expect([of('electrodeGap').why, of('headToTubeEnd').why]).toEqual(['other-burner', 'other-burner']);
  });
  it.each([
    { flow: '0.70', verdict: 'pass', why: undefined },
    { flow: '2.65 l/h', verdict: 'pass', why: undefined },
    { flow: '2.2 kg/h', verdict: 'no-figure', why: 'flow-unit' },
    { flow: '0.63', verdict: 'no-figure', why: 'no-row-for-flow' },
    { flow: '-0.7', verdict: 'no-figure', why: 'flow-unreadable' },
    { flow: 'half', verdict: 'no-figure', why: 'flow-unreadable' },
  ])('a nozzle of $flow: head setting $verdict $why', async ({ flow, verdict, why }) => {
    const { of } = await judged(
      {},
      { burner: { tubeEnd: 'straight', arrangement: 'two', nozzleFlow: flow }, measured: { headSetting: 2 } },
    );
    expect(of('headSetting')).toMatchObject({ verdict, ...(why === undefined ? {} : { why }) });
  });
  it('says beside a verdict that it is of before the change', async () => {
    const { of } = await judged(
      {},
      { burner: { nozzleFlow: '0.7' }, measured: { headSetting: 2, electrodeGap: '7/64' }, changed: ['zero'] },
    );
    expect([of('headSetting').stale_because, of('electrodeGap').stale_because]).toEqual(['zero', null]);
  });
  it('shows everything as measured where there is no card, and reads a file with a byte order mark', async () => {
    const sheet = file('bom.json', `\uFEFF${JSON.stringify({ lengthUnit: 'inch', measured: { electrodeGap: '1/8' } })}`);
    const { code, out } = await runCommand(command, ['--measured', sheet, '--json']);
    expect(code).toBe(0);
    expect(JSON.parse(out.join('\n'))).toMatchObject({
      card: null,
      items: expect.arrayContaining([
        expect.objectContaining({ measured: '1/8', verdict: 'no-figure', why: 'not-on-card', value_mm: 3.175 }),
      ]) as unknown,
    });
  });
  it('gives the same verdicts for a sheet in inches and the same sheet in mm', async () => {
    const inches = {
      electrodeGap: 9 / 64,
      heightAboveCentreline: 17 / 32,
      aheadOfNozzle: 1 / 16,
      tipToMetal: 15 / 64,
      headToTubeEnd: 23 / 32,
      offCentre: 3 / 64,
    };
    const burner = { tubeEnd: 'straight', arrangement: 'two' };
    const [a, b] = [
      await judged({}, { burner, measured: inches }),
      await judged(
        {},
        { lengthUnit: 'mm', burner, measured: Object.fromEntries(Object.entries(inches).map(([item, value]) => [item, value * 25.4])) },
      ),
    ];
    const verdicts = Object.keys(inches).map((item) => a.of(item).verdict);
    expect(verdicts).toEqual(['pass', 'pass', 'pass', 'fail', 'pass', 'fail']);
    expect(Object.keys(inches).map((item) => b.of(item).verdict)).toEqual(verdicts);
  });
});

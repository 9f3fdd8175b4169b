import type { ApplianceKnowledge } from '../../../shared/measurement/knowledge.ts';
import { leftOff } from '../../helpers/visits/left-off.ts';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mergeVisits } from '../../../main/report/merge-visits.ts';
import { packVisits, unpackVisits } from '../../../main/report/visit-package.ts';
import { visitHash } from '../../../main/store/visits.ts';
import { editVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { smallVisit, START } from '../../shared/report/small-visit.ts';
import type { Instrument } from '../../../shared/bench/instrument.ts';
import { keepingWords } from '../../../shared/words/records/copies.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';
import { folder, opened, tables, nextNumber, place, applianceOf, arrive, all, openForEachTest } from './package-parts.ts';

openForEachTest();

const signed = (visit: Visit): Visit => {
  const ended = { ...visit, endedWallMs: START + 1, notLeftRunning: leftOff };
  const done = signVisit(ended, { name: 'A. Sample', wallMs: START + 1, hash: visitHash(ended) });
  if (!done.ok) throw new Error('not signed');
  return done.value;
};
const corrected = (visit: Visit, gallons: number): Visit => {
  const done = editVisit(visit, { wallMs: START + 2, by: 'B. Sample', path: ['annualFuelGal'], after: gallons, reason: 'told wrongly' });
  if (!done.ok) throw new Error('not corrected');
  return done.value;
};
const stored = (id: string): Visit => {
  const found = tables.visits.get(id);
  if (!found.ok) throw new Error(found.error.code);
  return found.value.visit;
};

describe('visits of another computer', () => {
  it('are added with their appliance and run, under a free number', async () => {
    tables.visits.adopt(smallVisit({ id: 'mine' }), START);
    const run = join(folder, 'theirs.run');
    writeFileSync(run, 'lines\n');
    const merged = await arrive([smallVisit()], { runs: new Map([['run-1', run]]) });
    expect(merged).toMatchObject({ added: 1, same: 0, copies: 0, appliances: 1, runs: 1 });
    expect(stored('visit-1').number).toBe(43);
    expect(readFileSync(join(folder, 'runs', 'run-1.run'), 'utf8')).toBe('lines\n');
  });

  it('are left out when they are here already, also the second time and under another number', async () => {
    tables.visits.adopt(smallVisit({ id: 'mine' }), START);
    await arrive([smallVisit()]);
    expect(await arrive([smallVisit()])).toMatchObject({ added: 0, same: 1, copies: 0, appliances: 0 });
    expect(all()).toHaveLength(2);
  });

  it('are kept as one copy when they differ, and nothing here is changed', async () => {
    await arrive([smallVisit()]);
    const before = JSON.stringify(stored('visit-1'));
    const theirs = smallVisit({ annualFuelGal: 900 });
    expect(await arrive([theirs], { name: 'Another name' })).toMatchObject({ added: 0, copies: 1, appliances: 0 });
    expect(await arrive([theirs])).toMatchObject({ copies: 0, same: 1 });
    expect(JSON.stringify(stored('visit-1'))).toBe(before);
    expect(tables.appliances.nameOf('unit-1')).toBe('Furnace');
    const copy = all().find(({ id }) => id !== 'visit-1');
    expect(stored(copy?.id ?? '')).toMatchObject({
      annualFuelGal: 900,
      notes: [{ text: expect.stringContaining('Copy of visit 42') as string }],
    });
  });

  it('bring an appliance that says how it came, and change nothing of one that is here, nor of its edits', async () => {
    await arrive([smallVisit()]);
    const came = { wallMs: START, by: 'B. Sample', path: ['movedIn'], after: true };
    expect(tables.appliances.edits('unit-1')).toEqual({ ok: true, value: [came] });
    tables.appliances.save('unit-1', { ...applianceOf('Furnace').appliance, maker: 'Invented' }, START + 1, { by: 'C. Sample' });
    const here = [tables.appliances.get('unit-1'), tables.appliances.edits('unit-1')];
    expect(here[1]).toMatchObject({ value: [came, { by: 'C. Sample', path: ['maker'], after: 'Invented' }] });
    expect(await arrive([smallVisit({ annualFuelGal: 900 })], { name: 'Another name' })).toMatchObject({ appliances: 0 });
    expect([tables.appliances.get('unit-1'), tables.appliances.edits('unit-1')]).toEqual(here);
  });

  it('are not taken in where their appliance is here and cannot be read: nothing is written over it', async () => {
    opened.db.run("INSERT INTO appliance (id, changed_ms, search, body) VALUES ('unit-1', 0, '', '{\"appliance\":7}')");
    await expect(arrive([smallVisit()])).rejects.toThrow('store-damaged');
    expect(opened.db.one("SELECT body FROM appliance WHERE id = 'unit-1'")?.['body']).toBe('{"appliance":7}');
  });

  it('bring corrections of the same signed record, which only grow', async () => {
    const record = signed(smallVisit());
    await arrive([record]);
    expect(await arrive([corrected(record, 650)])).toMatchObject({ corrected: 1, copies: 0 });
    expect(stored('visit-1').edits).toHaveLength(1);
    // the older state does not take them away again
    expect(await arrive([record])).toMatchObject({ corrected: 0, same: 1 });
    expect(stored('visit-1').edits).toHaveLength(1);
    expect(visitHash(stored('visit-1'))).toBe(record.signature?.hash);
  });

  it('lose no signature in a copy: it says in words who signed', async () => {
    await arrive([smallVisit({ annualFuelGal: 1 })]);
    expect(await arrive([signed(smallVisit())])).toMatchObject({ copies: 1 });
    const copy = stored(all().find(({ id }) => id !== 'visit-1')?.id ?? '');
    expect(copy.signature).toBeUndefined();
    expect(copy.notes.at(-1)?.text).toContain('signed by A. Sample');
  });

  it('are refused when they are not what was signed', async () => {
    expect(await arrive([{ ...signed(smallVisit()), annualFuelGal: 1 }])).toMatchObject({ refused: 1, added: 0 });
    expect(all()).toHaveLength(0);
  });

  it('never replace a run file that is here', async () => {
    mkdirSync(join(folder, 'runs'));
    writeFileSync(join(folder, 'runs', 'run-1.run'), 'mine\n');
    const run = join(folder, 'theirs.run');
    writeFileSync(run, 'theirs\n');
    expect(await arrive([smallVisit()], { runs: new Map([['run-1', run]]) })).toMatchObject({ runs: 0 });
    expect(readFileSync(join(folder, 'runs', 'run-1.run'), 'utf8')).toBe('mine\n');
  });
});

describe('what visits have taught of an appliance', () => {
  const known = (visitIds: string[]): ApplianceKnowledge => ({
    visitIds,
    knowledge: {
      format: 'flueside-knowledge',
      version: 1,
      appliance: 'pressure-atomizing oil burner',
      visits: visitIds.length,
      channels: { o2: { sensor: { mean: 2.1, sd: 0.1 } } },
    },
  });
  it('travels with a package, and gives way only to more visits', async () => {
    const target = join(folder, 'known.zip');
    const knowledge = [{ applianceId: 'unit-1', known: known(['a', 'b']) }];
    const packed = await packVisits(
      target,
      { visits: [smallVisit()], appliances: [applianceOf('F')], instruments: [], knowledge },
      new Map(),
      't',
    );
    expect(packed.ok).toBe(true);
    const content = await unpackVisits(target, join(folder, 'known'));
    if (!content.ok) throw new Error(content.error.code);
    const stored = (): unknown => {
      const found = tables.documents.knowledge.get('unit-1');
      return found.ok ? found.value.body : undefined;
    };
    const merge = () => mergeVisits(content.value, { ...place(), unpacked: join(folder, 'known') });
    expect((await merge()).ok).toBe(true);
    expect(stored()).toEqual(known(['a', 'b']));
    tables.documents.knowledge.save('unit-1', known(['a', 'b', 'c']), { wallMs: START });
    expect((await merge()).ok).toBe(true);
    expect(stored()).toEqual(known(['a', 'b', 'c']));
  });
});

describe('instruments of a package', () => {
  const { instrument } = practiceTest();
  const merge = async (instruments: readonly { id: string; instrument: Instrument }[]) => {
    const number = nextNumber();
    const target = join(folder, `instruments-${number}.zip`);
    const packed = await packVisits(target, { visits: [], appliances: [], instruments, knowledge: [] }, new Map(), 't');
    expect(packed.ok).toBe(true);
    const unpacked = join(folder, `instruments-${number}`);
    const content = await unpackVisits(target, unpacked);
    if (!content.ok) throw new Error(content.error.code);
    const merged = await mergeVisits(content.value, { ...place(), unpacked });
    if (!merged.ok) throw new Error(merged.error.code);
    return merged.value.instruments;
  };
  const stored = (id: string): unknown => {
    const found = tables.documents.instrument.get(id);
    return found.ok ? found.value.body : undefined;
  };
  it('are saved at the other computer, and counted; what is here stays as it is', async () => {
    const other = { ...instrument, name: 'Instrument 4', serial: '0148' };
    expect(
      await merge([
        { id: 'i1', instrument },
        { id: 'i2', instrument: other },
      ]),
    ).toBe(2);
    expect([stored('i1'), stored('i2')]).toEqual([instrument, other]);
    // the same again, and one that reads otherwise there: nothing is overwritten, nothing is counted
    expect(await merge([{ id: 'i1', instrument: { ...instrument, name: 'Renamed there' } }])).toBe(0);
    expect(stored('i1')).toEqual(instrument);
  });
  it('are told', () => {
    const count = { added: 1, same: 0, corrected: 0, copies: 0, refused: 0, appliances: 1, instruments: 2, runs: 0 };
    expect(keepingWords.movedIn(count)).toBe('One visit was added; 2 instruments came with them.');
    expect(keepingWords.movedIn({ ...count, instruments: 0 })).toBe('One visit was added.');
  });
});

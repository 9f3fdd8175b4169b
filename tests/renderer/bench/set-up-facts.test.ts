import { describe, expect, it } from 'vitest';
import type { Instrument } from '../../../shared/bench/instrument.ts';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import type { BenchLists } from '../../../renderer/views/bench/bench-screen.ts';
import { emptyDraft, type SetUpDraft } from '../../../renderer/views/bench/set-up/set-up-draft.ts';
import { setUpFacts } from '../../../renderer/views/bench/set-up/set-up-facts.ts';
import { bench } from '../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../shared/words/bench/bench-run.ts';
import { recordWith } from '../helpers/records.ts';

const words = benchSetUp;
const narrow: Instrument = { format: 1, name: 'Narrow', cells: [{ channel: 'co', rangeLow: 0, rangeHigh: 500, resolution: 1 }] };
const lists: BenchLists = {
  instrument: [{ id: 'i1', revision: 1, changedMs: 0, body: narrow }],
  gas: [],
  'bench-plan': [],
  'bench-limits': [],
  'bench-test': [],
};
const simulated = recordWith(
  {},
  { source: { kind: 'simulated', scenario: 'bench-good', seed: 1, title: 'Bench: a sound one', shape: 'columns', ratePerSecond: 2 } },
);
const serial = recordWith({}, { runId: 'run-2' });
const facts = (part: Partial<SetUpDraft>, records = [simulated]) =>
  setUpFacts({
    draft: { ...emptyDraft('B. Tester'), ...part },
    lists,
    runs: Object.fromEntries(records.map((record) => [record.info.runId, record])),
    today: '2026-11-24',
  });

describe('what the set-up of a bench test still needs', () => {
  it('is an instrument first, and nothing of the room before that', () => {
    expect(facts({ room: { airC: 'warm', humidity: '', pressure: '', place: '' } }, []).missing).toBe(words.missing.instrument);
  });
  it('is the limits, once instrument, plan and bottles are there; "without limits" is an answer too', () => {
    expect(facts({}).missing).toBe(words.missing.rule);
    expect(facts({ limitsName: 'none' })).toMatchObject({ missing: undefined, limits: 'none' });
  });
  it('is a decision rule: limits without one judge nothing', () => {
    const [card] = exampleLimits;
    expect(facts({ limitsName: card?.name ?? '' }).limits).toBeUndefined();
    expect(facts({ limitsName: card?.name ?? '', rule: 'simple' }).limits).toEqual({ ...card, decisionRule: 'simple' });
  });
  it('is a figure of the room that can be read, before place and rule', () => {
    const wrong = facts({ room: { airC: '210', humidity: '', pressure: '', place: '' } });
    expect(wrong.missing).toMatch(/-30.*60/);
    expect(wrong.room).not.toHaveProperty('airC');
  });
});

describe('the set-up of a bench test', () => {
  it('takes pressure in hPa and hands it on in Pa; a simulated inlet is dry unless a person says otherwise', () => {
    const room = { airC: '21,5', humidity: '45', pressure: '984', place: ' yard ' };
    expect(facts({ room }).room).toEqual({ airC: 21.5, relativeHumidityPercent: 45, pressurePa: 98_400, place: 'yard', dried: true });
    expect(facts({ room, dried: false }).room.dried).toBe(false);
  });
  it('gives simulated bottles to simulated runs only', () => {
    expect(facts({}).gases.length).toBeGreaterThan(0);
    expect(facts({}, [simulated, serial])).toMatchObject({ isPractice: false, gases: [] });
  });
  it('warns of a gas that an instrument cannot show', () => {
    expect(facts({}).warnings).toEqual([]);
    const { warnings } = facts({ which: { 'run-1': 'i1' } });
    expect(warnings).toContain(words.warnRange('Narrow', bench.channels.co, 'CO 1000'));
  });
  it('has no place for a run that was taken off the bench', () => {
    expect(facts({ offBench: ['run-1'] }).records).toEqual([]);
  });
});

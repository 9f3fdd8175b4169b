/**
 * As found beside as left the last time. Differences by hand: U = hypot of both (JCGM 100:2008, 5.1.2). Where to look first: NORA Oilheat
 * Technicians Manual p 115, 140, 142, 146 as shared/tuning/visit/since-last.ts cites them; their order is common practice.
 */
import { describe, expect, it } from 'vitest';
import { sinceLast, type SinceLast } from '../../../../shared/tuning/visit/since-last.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { Visit, newVisit } from '../../../../shared/tuning/visit/visit.ts';
import { sinceNote, sinceWords } from '../../../../shared/words/visit/since-last.ts';
import { smallVisit, START, trial } from '../../report/small-visit.ts';
import { signVisit } from '../../../../shared/tuning/visit/sign-visit.ts';

const YEAR = 365 * 86_400_000;
const usual = { o2: 5, co: 15, netF: 400, smoke: 0, position: 4 };
const signed = (visit: Visit): Visit => {
  const done = signVisit(visit, { name: 'A. Sample', wallMs: START, hash: 'h' });
  if (!done.ok) throw new Error(done.error.key);
  return done.value;
};
const earlier = (more: Partial<Visit> = {}): Visit =>
  signed(smallVisit({ id: 'visit-0', number: 44, startedWallMs: START - YEAR, ...more }));

/** @param draft over the fire and at the breech, Pa; left at -5 and -12 */
function now(
  found: Partial<typeof usual> = {},
  draft: Partial<NonNullable<Trial['draft']>> = {},
  more: Partial<Visit> = {},
  last: Visit | undefined = earlier(),
): SinceLast {
  const one = trial('x', 5, { ...usual, ...found });
  const visit = smallVisit({
    id: 'visit-2',
    number: 51,
    trials: [{ ...one, draft: { overFirePa: -5, breechPa: -12, ...draft } }],
    ...more,
  });
  const since = sinceLast(visit, { stage: '1', found: visit.trials[0], earlier: last });
  if (typeof since === 'string') throw new Error(since);
  return since;
}
const row = (since: SinceLast, quantity: string) => since.rows.find((one) => one.kind === 'figure' && one.quantity === quantity);
const keys = (since: SinceLast): string[] => since.notes.map(({ key }) => key);

describe('what moved', () => {
  it('is said of a difference outside its uncertainty only', () => {
    // U of O2 is 2 x 0.3/sqrt(3) = 0.346 each, 0.49 of the difference
    expect(row(now({ o2: 5.4 }), 'o2Percent')).toMatchObject({ movement: 'same', change: { expanded: expect.closeTo(0.49, 2) as number } });
    expect(row(now({ o2: 5.6 }), 'o2Percent')).toMatchObject({ movement: 'up' });
    expect(row(now({ smoke: 1 }), 'smokeNumber')).toMatchObject({ movement: 'up' });
    expect(row(now({ smoke: 0.5 }), 'smokeNumber')).toMatchObject({ movement: 'same' });
  });
  it('leaves out what one side lacks, instead of taking it for zero', () => {
    const bare = now({}, { breechPa: undefined });
    expect(row(bare, 'breechPa')).toBeUndefined();
    expect(row(bare, 'draftDropPa')).toBeUndefined();
  });
  it('takes the reading after the screws were tightened for what was left', () => {
    const echo = { ...trial('e', 40, { ...usual, o2: 5.8 }), smoke: undefined, draft: undefined };
    const base = smallVisit();
    const last = earlier({ trials: [...base.trials, echo], stages: [{ ...base.stages[0]!, echoTrialId: 'e' }] });
    const since = now({}, {}, {}, last);
    expect(row(since, 'o2Percent')).toMatchObject({ before: { value: 5.8 } });
    // smoke and draft were not taken again: those of the as-left reading stand
    expect(row(since, 'smokeNumber')).toMatchObject({ before: { value: 0 } });
  });
});

describe('where to look first', () => {
  const causeOf = (...parts: Parameters<typeof now>): string => now(...parts).finding.cause;
  it('is the flue passages when the draft is lost in the boiler and the chimney pulls as it did', () => {
    expect(causeOf({ o2: 3.5, co: 60, smoke: 1.5, netF: 430 }, { overFirePa: -1 })).toBe('passages');
  });
  it('is the chimney when the breech pulls less', () => {
    expect(causeOf({ o2: 4 }, { overFirePa: -1, breechPa: -8 })).toBe('chimney');
  });
  it('is the regulator when the draft is stronger', () => {
    expect(causeOf({ o2: 6 }, { overFirePa: -9, breechPa: -16 })).toBe('stronger-draft');
  });
  it('is who turned it when an adjuster stands elsewhere, whatever else moved', () => {
    expect(now({ o2: 3.5, position: 3 }, { overFirePa: -1 }).finding).toMatchObject({ cause: 'turned', names: ['shutter'] });
  });
  it('is the pressure when that moved', () => {
    const rows = (asFound: number) => ({ setUp: { lengthUnit: 'mm' as const, rows: { pumpPressurePa: { asFound } } } });
    expect(causeOf({ o2: 6 }, {}, rows(690_000), earlier(rows(965_000)))).toBe('pressure');
    expect(causeOf({ o2: 6 }, {}, rows(960_000), earlier(rows(965_000)))).toBe('more-air');
  });
  it('is the air inlet, less oil, the heating surfaces or the nozzle, one figure each', () => {
    expect(causeOf({ o2: 4 })).toBe('less-air');
    expect(causeOf({ o2: 6 })).toBe('more-air');
    expect(causeOf({ netF: 440 })).toBe('hotter');
    expect(causeOf({ smoke: 2 })).toBe('flame');
    expect(causeOf()).toBe('nothing');
  });
  it('is oil on the paper before anything else', () => {
    const one = { ...trial('x', 5, { ...usual, position: 3 }), smoke: { spots: [{ number: 1, oilTrace: true }] } };
    const visit = smallVisit({ id: 'visit-2', trials: [one] });
    const since = sinceLast(visit, { stage: '1', found: one, earlier: earlier() });
    expect(since).toMatchObject({ finding: { cause: 'oil' } });
  });
});

describe('what cannot be compared', () => {
  const gas = ['o2Percent', 'co2Percent', 'coPpm', 'smokeNumber', 'netStackK', 'efficiencyHhvPercent'];
  it('is left out across another fuel, and said; draft and marks still are', () => {
    const since = now({ o2: 3 }, { overFirePa: -1 }, { fuelId: 'no1' });
    expect(keys(since)).toEqual(['other-fuel']);
    for (const quantity of gas) expect(row(since, quantity)).toBeUndefined();
    expect(row(since, 'overFirePa')).toMatchObject({ movement: 'up' });
    expect(since.finding.cause).toBe('passages');
  });
  it('is left out across another nozzle, by flow or by angle', () => {
    const nozzle = (nozzleFlowLh: number, angle = 60) => ({
      setUp: { lengthUnit: 'mm' as const, rows: { nozzleFlowLh: { asFound: nozzleFlowLh }, nozzleAngleDeg: { asFound: angle } } },
    });
    expect(keys(now({ o2: 3 }, {}, nozzle(3.22), earlier(nozzle(2.84))))).toEqual(['other-nozzle']);
    expect(keys(now({ o2: 3 }, {}, nozzle(3.22, 80), earlier(nozzle(3.22))))).toEqual(['other-nozzle']);
    // 0.85 gph is 3.2176 L/h: the same stamp written in the other unit
    expect(keys(now({}, {}, nozzle(3.22), earlier(nozzle(3.2176))))).toEqual([]);
  });
  it('is no other nozzle where only the stamp is for another pressure and unit', () => {
    // flow goes with the root of the pressure: 0.85 gph at 100 psi is 3.2176 L/h, and 3.2176 x sqrt(1 000 000 / 689 476) = 3.875 L/h at 10 bar
    const stamped = (asFound: number, ratedPressurePa?: number) => ({
      setUp: { lengthUnit: 'mm' as const, ratedPressurePa, rows: { nozzleFlowLh: { asFound } } },
    });
    const same = now({ o2: 3 }, {}, { ...stamped(3.875, 1_000_000), unitPreset: 'metric' }, earlier(stamped(3.2176)));
    expect(keys(same)).toEqual(['other-units']);
    expect(row(same, 'o2Percent')).toMatchObject({ movement: 'down' });
    // and the same number at another pressure is another nozzle, shown as today's stamp has it
    const other = now({ o2: 3 }, {}, stamped(3.2176, 1_000_000), earlier(stamped(3.2176)));
    const [note] = other.notes;
    expect(note).toMatchObject({ key: 'other-nozzle' });
    expect(sinceNote(note!, (litres) => litres.toFixed(2))).toContain('(3.88, now 3.22)');
  });
  it('is the nozzle itself, before marks that stand elsewhere; what the boiler takes of the draft goes with it', () => {
    const flow = (asFound: number) => ({ setUp: { lengthUnit: 'mm' as const, rows: { nozzleFlowLh: { asFound } } } });
    const since = now({ position: 6 }, { overFirePa: -1 }, flow(4.16), earlier(flow(2.84)));
    expect(since.finding.cause).toBe('nozzle');
    expect(row(since, 'draftDropPa')).toBeUndefined();
    expect(row(since, 'overFirePa')).toMatchObject({ movement: 'up' });
    expect(sinceWords.cause(since.finding).says).toMatch(/^This is not the nozzle that was left/);
  });
  it('is a nozzle of the second stage, judged at the second stage', () => {
    const stage = (gph: number, adds = false) => ({
      stages: [{ name: '1' }, { name: '2', asFoundTrialId: 'x', asLeftTrialId: 'd' }],
      setUp: {
        lengthUnit: 'mm' as const,
        rows: { nozzleFlowLh: { asFound: 2.84 } },
        stages: [{ stage: '2', stamp: { value: gph, unit: 'gph' as const, atPa: 689_476 }, ...(adds && { adds }) }],
      },
    });
    const at = (name: string, before: Partial<Visit>, after: Partial<Visit>): string[] => {
      const found = trial('x', 5, usual);
      const visit = smallVisit({ id: 'visit-2', trials: [found], ...after });
      const base = smallVisit();
      const left = { ...base, ...before, stages: [{ ...base.stages[0]! }, { name: '2', asLeftTrialId: 'd' }] };
      const since = sinceLast(visit, { stage: name, found, earlier: left });
      return typeof since === 'string' ? [since] : keys(since).filter((key) => key !== 'not-signed');
    };
    expect(at('2', stage(1), stage(1))).toEqual([]);
    expect(at('2', stage(1), stage(1.25))).toEqual(['other-nozzle']);
    expect(at('1', stage(1), stage(1.25))).toEqual([]);
    // one that burns beside the first is not the same as one that burns alone
    expect(at('2', stage(1), stage(1, true))).toEqual(['other-nozzle']);
  });
  it('is never said to be as it was left when the fuel is another one', () => {
    const since = now({ o2: 3 }, {}, { fuelId: 'b20' });
    expect(since.finding.cause).toBe('fuel');
    expect(sinceWords.cause(since.finding).why).toContain('not compared');
  });
  it('is told of a visit that was not signed, and of one in other units', () => {
    const last = smallVisit({ id: 'visit-0', number: 44, startedWallMs: START - YEAR, unitPreset: 'metric' });
    const since = now({}, {}, {}, last);
    expect(keys(since)).toEqual(['not-signed', 'other-units']);
    // kept in inner units: other units change no figure
    expect(since.finding.cause).toBe('nothing');
    expect(since.notes.map((note) => sinceNote(note, String))[0]).toMatch(/^Visit 44 was not signed/);
  });
  it('is told of an adjuster whose scale is another one', () => {
    const last = earlier({ adjusters: [{ name: 'shutter', unit: 'mm', min: 0, max: 40, step: 1, role: 'fine', kind: 'air' }] });
    const since = now({ position: 7 }, {}, {}, last);
    expect(keys(since)).toEqual(['other-scale']);
    expect(since.finding.cause).toBe('nothing');
  });
  it('is nothing when nothing was left', () => {
    const visit = smallVisit({ id: 'visit-2' });
    const found = visit.trials[0];
    expect(sinceLast(visit, { stage: '1', found })).toBe('nothing-left');
    expect(sinceLast(visit, { stage: '1', found, earlier: earlier({ stages: [{ name: '1' }] }) })).toBe('nothing-left');
    expect(sinceLast({ ...visit, settingFound: undefined }, { stage: '1', found: undefined, earlier: earlier() })).toBe('nothing-found');
  });
});

it('papers of a first visit stand in for a visit, with today’s ±, and say so', () => {
  const papers = { day: '2025-11-03', co2Percent: 12, netStackK: 400 / 1.8, smokeNumber: 0 };
  const since = now({ o2: 3 }, {}, { papers }, smallVisit({ trials: [], stages: [{ name: '1' }] }));
  expect(keys(since)).toEqual(['papers']);
  const co2 = row(since, 'co2Percent');
  expect(co2).toMatchObject({ before: { value: 12 }, movement: 'up' });
  // O2 is not on the paper, so the finding goes by CO2, which goes the other way
  // no paper says where the adjusters stood: that nothing was turned is not claimed
  expect(since.finding.cause).toBe('less-air-marks-unknown');
  expect(Object.values(sinceWords.cause(since.finding)).join(' ')).toMatch(/^Less air than was left\. Look at the shutter.*not known here/);
  const more = now({ o2: 8 }, {}, { papers }, smallVisit({ trials: [], stages: [{ name: '1' }] }));
  expect(Object.values(sinceWords.cause(more.finding)).join(' ')).not.toMatch(/same positions|Nothing was turned/);
  // a paper with the stack alone: "at the same air" is said only where air was compared
  const hot = now(
    { netF: 480 },
    {},
    { papers: { netStackK: 400 / 1.8, smokeNumber: 0 } },
    smallVisit({ trials: [], stages: [{ name: '1' }] }),
  );
  expect([hot.finding.moved, hot.finding.cause]).toEqual([['netStackK'], 'other']);
});

it('papers of another fuel or nozzle are compared in draft and nothing else; one stamped alike is the same nozzle', () => {
  const none = smallVisit({ trials: [], stages: [{ name: '1' }] });
  const papers = { o2Percent: 6, overFirePa: -5, fuelId: 'no2' };
  const metric = { setUp: { lengthUnit: 'mm' as const, ratedPressurePa: 1_000_000, rows: { nozzleFlowLh: { asFound: 3.875 } } } };
  const kinds = (since: SinceLast): string[] => since.rows.flatMap((one) => (one.kind === 'figure' ? [one.quantity] : []));
  const fuel = now({}, {}, { papers, fuelId: 'no1' }, none);
  expect([keys(fuel), kinds(fuel)]).toEqual([['other-fuel', 'papers'], ['overFirePa']]);
  const nozzle = now({}, {}, { ...metric, papers: { ...papers, nozzleFlowLh: 3 } }, none);
  expect([keys(nozzle), kinds(nozzle)]).toEqual([['other-nozzle', 'papers'], ['overFirePa']]);
  // a label gives the stamp alone: it is taken to be for the pressure that today's stamp is for
  expect(keys(now({}, {}, { ...metric, papers: { ...papers, nozzleFlowLh: 3.875 } }, none))).toEqual(['papers']);
});

it('a visit of an earlier version has no papers, and opens', () => {
  const old = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: START, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
  expect(Visit.parse(JSON.parse(JSON.stringify(old)))).toEqual(old);
});

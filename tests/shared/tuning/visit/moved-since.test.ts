/** Where the burner stands at the end: what was marked after as-left, and what a second run of the visit begins with. */
import { describe, expect, it } from 'vitest';
import type { Mark } from '../../../../shared/measurement/mark.ts';
import { makeReport } from '../../../../shared/report/make-report.ts';
import { chosenByItself } from '../../../../shared/tuning/visit/by-itself.ts';
import { judgeVisit } from '../../../../shared/tuning/advice/safe.ts';
import { stepsOf } from '../../../../shared/tuning/visit/steps.ts';
import { numberedTrials, takeTrials, type RunFacts } from '../../../../shared/tuning/visit/visit-session.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { readingOf, turnOf } from '../../../renderer/helpers/records.ts';
import { smallVisit, START } from '../../report/small-visit.ts';

const run: RunFacts = { runId: 'r', startWallMs: START, source: 'port', ended: false, marks: [], readings: [] };
const readAt = (id: string, fromMs: number) => readingOf(id, { fromMs, toMs: fromMs + 20_000, takenMs: fromMs + 20_000 });
const found = { stage: '1', positions: [{ name: 'shutter', value: 7 }] };
const open = smallVisit({ runs: [{ id: 'r', startWallMs: START, source: 'port' }], trials: [], settingFound: found });

describe('the burner was moved after the as-left reading', () => {
  const left = (marks: Mark[], readings: RunFacts['readings'] = []): Visit => {
    const facts = { ...run, marks: [turnOf('five', 30_000, 5), ...marks], readings: [readAt('as-left', 35_000), ...readings] };
    const visit = takeTrials(open, facts);
    const asLeftTrialId = visit.trials.find(({ reading }) => reading?.id === 'as-left')!.id;
    return { ...visit, stages: [{ name: '1', asLeftTrialId }] };
  };
  const unknownOf = (visit: Visit) => judgeVisit(visit).unknown.map(({ key }) => key);
  const missingOf = (visit: Visit) =>
    stepsOf(visit, { onsetFound: {}, safetyTests: [] })
      .find(({ id }) => id === 'as-left')
      ?.missing.map(({ key }) => key);
  const pressure = (id: string, timeMs: number, pumpPa: number): Mark => ({ id, timeMs, body: { kind: 'pressure', pumpPa } });

  it('and stands elsewhere, read there or not: not known whether it is safe, and the step and page 1 say why', () => {
    for (const visit of [
      left([turnOf('six', 90_000, 6)]),
      left([turnOf('six', 90_000, 6)], [readAt('other', 95_000)]),
      left([turnOf('six', 90_000, 6), turnOf('back', 120_000, 5), turnOf('again', 130_000, 4.5)]),
    ]) {
      expect(unknownOf(visit)).toContain('as-left-moved');
      expect(missingOf(visit)).toContain('as-left-moved');
      const { verdict } = makeReport({ visit, runs: [], appVersion: '0' }).first;
      expect(verdict.headline + verdict.about).toContain('set elsewhere after the as-left reading');
    }
  });
  it('and was put back by a mark, or only tightened, or run at another stage: nothing is said', () => {
    for (const visit of [
      left([]),
      left([turnOf('tight', 90_000, 5)], [readAt('echo', 95_000)]),
      left([turnOf('six', 90_000, 6), turnOf('back', 120_000, 5)], [readAt('other', 95_000)]),
      left([{ id: 'high', timeMs: 90_000, body: { kind: 'adjustment', setting: { ...found, stage: '2' } } }]),
    ]) {
      expect(unknownOf(visit)).not.toContain('as-left-moved');
      expect(missingOf(visit)).not.toContain('as-left-moved');
    }
  });
  it('by another oil pressure at the pump: the same', () => {
    const at = (...marks: Mark[]) => unknownOf(left([pressure('first', 31_000, 700_000), ...marks]));
    expect(at(pressure('more', 90_000, 1_000_000))).toContain('as-left-moved');
    expect(at(pressure('more', 90_000, 1_000_000), pressure('back', 120_000, 705_000))).not.toContain('as-left-moved');
    // the gauge was put on afterwards: nothing was changed
    expect(unknownOf(left([pressure('only', 90_000, 700_000)]))).not.toContain('as-left-moved');
  });
  it('and the mark was taken back: nothing is said any more', () => {
    const visit = left([turnOf('six', 90_000, 6)]);
    const facts = { ...run, marks: [turnOf('five', 30_000, 5)], readings: [readAt('as-left', 35_000)] };
    expect(unknownOf(takeTrials(visit, facts))).not.toContain('as-left-moved');
    const none = takeTrials(visit, { ...facts, marks: [] });
    expect(none.runs[0]).toEqual(open.runs[0]);
    expect(takeTrials(none, { ...facts, marks: [] })).toBe(none);
  });
});

describe('where the adjusters stood when a run began', () => {
  const shutters = (visit: Visit) =>
    visit.trials.map(({ setting }) => setting.positions.map(({ name, value }) => `${name} ${value}`).join());

  it('is where the run before it left them, not as found', () => {
    const first = takeTrials(open, { ...run, marks: [turnOf('five', 30_000, 5)], readings: [readAt('one', 5000), readAt('two', 35_000)] });
    const second = { ...run, runId: 's', startWallMs: START + 600_000, readings: [readAt('three', 5000)] };
    const both = takeTrials({ ...first, runs: [...first.runs, { id: 's', startWallMs: second.startWallMs, source: 'typed' }] }, second);
    expect(shutters(both)).toEqual(['shutter 7', 'shutter 5', 'shutter 5']);
  });
  it('is moved for both of two runs at once by a mark beside one of them', () => {
    const gas = { ...run, marks: [turnOf('five', 30_000, 5)], readings: [readAt('one', 5000)] };
    // a gauge of its own that began ten seconds later, and was at rest before and after the shutter was turned, and while it was
    const draft = {
      ...run,
      runId: 'd',
      startWallMs: START + 10_000,
      readings: [readAt('before', 0), readAt('across', 10_000), readAt('after', 40_000)],
    };
    const joined: Visit = { ...open, runs: [...open.runs, { id: 'd', startWallMs: draft.startWallMs, source: 'port' }] };
    const both = takeTrials(takeTrials(joined, gas), draft);
    const told = (visit: Visit) =>
      visit.trials.filter(({ runId }) => runId === 'd').map(({ reading, setting }) => [reading?.id, setting.positions[0]?.value]);
    expect(told(both)).toEqual([
      ['before', 7],
      ['after', 5],
    ]);
    expect(numberedTrials(draft, both).at(-1)?.setting.positions[0]?.value).toBe(5);
    // the mark is not its own, and is gone with the one who made it
    expect(both.runs.map(({ id, moves = [] }) => [id, moves.length])).toEqual([
      ['r', 1],
      ['d', 0],
    ]);
    expect(told(takeTrials(takeTrials(both, { ...gas, marks: [] }), draft))).toEqual([['after', 7]]);
    // a run that had ended before stays as it was
    const over = { ...draft, ended: true, readings: [readAt('before', 0)] };
    expect(told(takeTrials(takeTrials(joined, gas), over))).toEqual([['before', 7]]);
    expect(takeTrials(takeTrials(joined, gas), over).trials.find(({ runId }) => runId === 'd')?.toMs).toBeUndefined();
  });
  it('keeps the trials of the other run by their names when a mark before theirs is taken back', () => {
    const marks = [turnOf('six', 20_000, 6), turnOf('five', 60_000, 5), turnOf('four', 120_000, 4)];
    const draft = { ...run, runId: 'd', readings: [readAt('at six', 25_000), readAt('at five', 70_000), readAt('at four', 130_000)] };
    const joined: Visit = { ...open, runs: [...open.runs, { id: 'd', startWallMs: START, source: 'port' }] };
    const named = (visit: Visit) =>
      new Map(visit.trials.flatMap(({ id, runId, reading }) => (runId === 'd' && reading !== undefined ? [[id, reading.id]] : [])));
    const before = takeTrials(takeTrials(joined, { ...run, marks }), draft);
    const after = takeTrials(takeTrials(before, { ...run, marks: marks.slice(1) }), draft);
    expect([...named(before).values()]).toEqual(['at six', 'at five', 'at four']);
    for (const [id, reading] of named(after)) if (named(before).has(id)) expect(reading).toBe(named(before).get(id));
    expect(named(after).size).toBeGreaterThan(1);
  });
  it('is as found while nothing was moved, whatever of it was typed first and put right later', () => {
    const facts = { ...run, readings: [readAt('one', 5000)] };
    const typed = (visit: Visit, ...positions: [string, number][]) =>
      takeTrials({ ...visit, settingFound: { stage: '1', positions: positions.map(([name, value]) => ({ name, value })) } }, facts);
    const one = typed(open, ['shutter', 6]);
    const two = typed(one, ['shutter', 6], ['band', 3]);
    expect(shutters(two)).toEqual(['shutter 6,band 3']);
    expect(shutters(typed(two, ['shutter', 6.5], ['band', 3]))).toEqual(['shutter 6.5,band 3']);
  });
});

describe('as found, by itself', () => {
  const asFound = (marks: Mark[], settingFound: Visit['settingFound']) => {
    const { settingFound: _typed, ...blank } = open;
    const visit: Visit = {
      ...blank,
      ...(settingFound !== undefined && { settingFound }),
      at: { step: 'as-found', stage: '1' },
      stages: [{ name: '1' }],
    };
    const after = takeTrials(visit, { ...run, marks, readings: [{ ...readAt('one', 35_000), scope: 'full' as const }] });
    const [stage] = chosenByItself(after).stages;
    return after.trials.find(({ id }) => id === stage?.asFoundTrialId)?.reading?.id;
  };
  it('is no reading that was taken after an adjuster was moved', () => {
    expect(asFound([turnOf('five', 30_000, 5)], found)).toBeUndefined();
    expect(asFound([turnOf('seven', 10_000, 7), turnOf('five', 30_000, 5)], undefined)).toBeUndefined();
  });
  it('is the first one while nothing was moved, or only said where it stands', () => {
    expect(asFound([], found)).toBe('one');
    expect(asFound([turnOf('seven', 30_000, 7)], found)).toBe('one');
    expect(asFound([turnOf('seven', 30_000, 7)], undefined)).toBe('one');
    // moved afterwards
    expect(asFound([turnOf('five', 90_000, 5)], found)).toBe('one');
  });
});

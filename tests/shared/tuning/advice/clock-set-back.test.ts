/** A clock that is set back between two runs of a visit puts the later reading before the earlier one: it still counts as later. */
import { describe, expect, it } from 'vitest';
import type { Mark, Setting } from '../../../../shared/measurement/mark.ts';
import { judgeVisit } from '../../../../shared/tuning/advice/safe.ts';
import { oilOnPaper } from '../../../../shared/tuning/trial/oil.ts';
import { isMovedSince } from '../../../../shared/tuning/visit/moved-since.ts';
import { staleReason } from '../../../../shared/tuning/visit/staleness.ts';
import { numberedTrials, takeRun, takeTrials, type RunFacts } from '../../../../shared/tuning/visit/visit-session.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { readingOf, turnOf } from '../../../renderer/helpers/records.ts';
import { smallVisit, START, trial } from '../../report/small-visit.ts';

const HOUR = 3_600_000;
const alarm = { o2: 4, co: 1500, netF: 400, smoke: 0 };

it.each([
  ['no clock was set', 0],
  ['the clock was set back by an hour', HOUR],
])('an alarm read in a second run after as-left is said: %s', (_, back) => {
  const judged = (position: number) => {
    const visit = smallVisit();
    const second = { ...trial('e', 50, { ...alarm, position }), runId: 'run-2', takenWallMs: START + 50 * 60_000 - back };
    return judgeVisit({
      ...visit,
      runs: [...visit.runs, { id: 'run-2', startWallMs: START - back, source: 'port' }],
      trials: [...visit.trials, second].sort((a, b) => a.takenWallMs - b.takenWallMs),
    });
  };
  // as left at 4: read again there it is the burner as left, elsewhere it is not safe for sure
  expect(judged(4)).toMatchObject({ safe: 'no', unsafe: [{ key: 'flue-co' }] });
  expect(judged(2)).toMatchObject({ safe: 'unknown', unknown: [{ key: 'unsafe-since' }] });
});

describe('a second run of a visit that starts after the clock was set back', () => {
  const found: Setting = { stage: '1', positions: [{ name: 'shutter', value: 4 }] };
  const readAt = (id: string, fromMs: number) => readingOf(id, { fromMs, toMs: fromMs + 20_000, takenMs: fromMs + 20_000 });
  const facts = (runId: string, startWallMs: number, more: Partial<RunFacts> = {}): RunFacts => ({
    runId,
    startWallMs,
    source: 'port',
    ended: false,
    startSetting: found,
    marks: [],
    readings: [],
    ...more,
  });
  const first = facts('run-1', START, { readings: [readAt('one', 600_000)] });
  const began = takeTrials(takeRun(smallVisit({ runs: [], trials: [], settingFound: found }), first, START), first);
  const joined = (back: number, more: Partial<RunFacts>, visit = began): Visit => {
    const nowWallMs = START + HOUR / 2 - back;
    const second = facts('run-2', nowWallMs, more);
    return takeTrials(takeRun(visit, second, nowWallMs), second);
  };

  it.each([0, HOUR])('has its trials after those of the first, %d ms back', (back) => {
    const visit = joined(back, { readings: [readAt('two', 60_000)] });
    expect(visit.trials.map(({ reading }) => reading?.id)).toEqual(['one', 'two']);
    expect(numberedTrials(facts('run-2', START + HOUR / 2 - back, { readings: [readAt('two', 60_000)] }), visit)[0]?.number).toBe(2);
  });
  it.each([0, HOUR])('tells that the shutter stands elsewhere than as left, %d ms back', (back) => {
    const { id } = began.trials[0]!;
    const visit = joined(back, { marks: [turnOf('six', 60_000, 6)] });
    expect(
      isMovedSince(
        visit.trials.find((one) => one.id === id)!,
        visit,
      ),
    ).toBe(true);
  });
  it.each([0, HOUR])('shows oil on the paper although a paper before it was clean, %d ms back', (back) => {
    const oily: Mark = { id: 'oil', timeMs: 90_000, body: { kind: 'smoke', spots: [{ number: 2, oilTrace: true }] } };
    const clean: Mark = { id: 'clean', timeMs: 700_000, body: { kind: 'smoke', spots: [{ number: 0 }] } };
    const cause = { wallMs: START + 720_000, text: 'nozzle dripped' };
    const before = takeTrials({ ...began, oilCauses: [cause] }, { ...first, marks: [clean] });
    const visit = joined(back, { marks: [oily] }, before);
    expect(oilOnPaper(visit)).toMatchObject({ state: 'found' });
  });
  it.each([0, HOUR])(
    'counts for the air curve after the nozzle was changed before it, and not after it was changed since, %d ms back',
    (back) => {
      const changed = { ...began, changes: [{ wallMs: began.trials[0]!.takenWallMs, kind: 'nozzle' as const }] };
      const visit = joined(back, { readings: [readAt('two', 60_000)] }, changed);
      expect(visit.trials.map((one) => staleReason(one, visit)?.kind)).toEqual(['nozzle', undefined]);
      const again = { ...visit, changes: [...visit.changes, { wallMs: visit.trials[1]!.takenWallMs, kind: 'nozzle' as const }] };
      expect(staleReason(again.trials[1]!, again)?.kind).toBe('nozzle');
    },
  );
  it.each([0, HOUR])(
    'and nothing but its beginning is known: what is changed before the first reading makes that one no older, %d ms back',
    (back) => {
      const nowWallMs = START + 60_000 - back;
      const only = facts('run-2', nowWallMs, { readings: [readAt('two', 120_000)] });
      const joined = takeRun(smallVisit({ runs: [], trials: [], roomCo: [], safety: [], settingFound: found }), only, nowWallMs);
      // a window says the time of the run, and none before Begin
      const wallMs = Math.max(START, joined.runs[0]!.startWallMs + 60_000);
      const visit = takeTrials({ ...joined, changes: [{ wallMs, kind: 'nozzle' }] }, only);
      expect(visit.trials.map((one) => staleReason(one, visit))).toEqual([undefined]);
    },
  );
  it('keeps its own time where it only started before another one, and the clock goes right', () => {
    const early = facts('run-2', START + 60_000, { readings: [readAt('two', 60_000)] });
    const visit = takeTrials(takeRun(began, early, START + HOUR), early);
    expect(visit.runs[1]?.startWallMs).toBe(START + 60_000);
    expect(visit.trials.map(({ reading }) => reading?.id)).toEqual(['two', 'one']);
  });
});

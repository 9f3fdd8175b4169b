/** Where a run stands with its source, as a reducer: every way from one phase to the next, and what each asks for. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { problem } from '../../../shared/problem.ts';
import {
  GRACE_MS,
  lostOf,
  nextSource,
  NOTHING_YET_MS,
  OPENS_AT_ONCE_MS,
  shownPhase,
  startOfSource,
  type SourceDeed,
  type SourceHappening,
  type SourceState,
} from '../../../shared/pipeline/source-phase.ts';

const away = problem('port-gone');
const opened = (atMs: number, lastRecordedMs = 0, isLearning = false): SourceHappening => ({
  kind: 'opened',
  atMs,
  lastRecordedMs,
  isLearning,
});
const lost = (atMs: number, lastRecordedMs = 0): SourceHappening => ({ kind: 'lost', atMs, lastRecordedMs, problem: away });
const looked = (atMs: number, lines: number, isQuiet = false): SourceHappening => ({ kind: 'looked', atMs, lines, isQuiet });

/** @returns what the last happening asks for, and what is then shown */
function after(...happenings: SourceHappening[]) {
  let state: SourceState = startOfSource;
  let deeds: readonly SourceDeed[] = [];
  for (const one of happenings) ({ state, deeds } = nextSource(state, one, 0));
  const gap = deeds.find((deed) => deed.kind === 'gap');
  const silent = deeds.find((deed) => deed.kind === 'problem' && deed.about === 'silent');
  return {
    state,
    deeds: deeds.map(({ kind }) => kind),
    shown: shownPhase(state.phase),
    gap: gap && [gap.reason, gap.fromMs, gap.atMs],
    silent: silent?.kind === 'problem' ? (silent.problem?.code ?? 'no more') : undefined,
  };
}

describe('a source that opens', () => {
  it('at once leaves no gap; later it leaves one from the beginning', () => {
    expect(after(opened(OPENS_AT_ONCE_MS))).toMatchObject({ shown: 'running', gap: undefined, deeds: ['problem', 'changed'] });
    expect(after(opened(OPENS_AT_ONCE_MS + 1)).gap).toEqual(['unplugged', 0, OPENS_AT_ONCE_MS + 1]);
    expect(after(opened(0, 0, true)).shown).toBe('learning');
  });
  it('again leaves a gap from the last line, named as what it was', () => {
    expect(after(opened(0), opened(900, 700)).gap).toEqual(['unplugged', 700, 900]);
    expect(after(opened(0), { kind: 'speed-changes' }, opened(900, 700)).gap).toEqual(['restarted', 700, 900]);
    // only the gap that follows is the person's own
    expect(after(opened(0), { kind: 'speed-changes' }, opened(900, 700), opened(1900, 1700)).gap?.[0]).toBe('unplugged');
  });
  it('is read from the recipe that was found, with no further word', () => {
    expect(after(opened(0, 0, true), { kind: 'recipe-used' })).toMatchObject({ shown: 'running', deeds: [] });
    expect(after({ kind: 'recipe-used' }).shown).toBe('connecting');
  });
});

describe('a source that is lost', () => {
  it('is away since its last line, however often that is said, and comes back with that gap', () => {
    const gone = after(opened(0), lost(5000, 4200), lost(6000, 4200));
    expect(gone).toMatchObject({ shown: 'lost', deeds: ['keep-half-line', 'problem', 'changed'] });
    expect(lostOf(gone.state.phase)).toMatchObject({ sinceMs: 5000, problem: away });
    const back = after(opened(0), lost(5000, 4200), lost(6000, 4200), opened(9000, 4200));
    expect(back).toMatchObject({ shown: 'running', gap: ['unplugged', 5000, 9000] });
    expect(back.deeds).toEqual(['gap', 'watch-anew', 'problem', 'changed']);
    expect(lostOf(back.state.phase)).toBeUndefined();
  });
  it('before it ever opened leaves its gap too', () => {
    expect(after(lost(10), opened(20)).gap).toEqual(['unplugged', 10, 20]);
  });
  it('is not silent as well: the one that is away is said', () => {
    expect(after(opened(0), looked(NOTHING_YET_MS + 1, 0), lost(9000)).silent).toBe('no more');
    expect(after(opened(0), lost(5000), looked(50_000, 0, true)).silent).toBeUndefined();
  });
});

describe('a source that says nothing', () => {
  it('is silent after its grace: at once where lines were there, later where none ever came', () => {
    expect(after(opened(0), looked(GRACE_MS - 1, 5, true)).silent).toBeUndefined();
    expect(after(opened(0), looked(GRACE_MS, 5, true)).silent).toBe('source-silent');
    expect(after(opened(0), looked(NOTHING_YET_MS, 0)).silent).toBeUndefined();
    expect(after(opened(0), looked(NOTHING_YET_MS + 1, 0)).silent).toBe('source-silent');
    expect(after(looked(60_000, 0)).silent).toBeUndefined();
  });
  it('is said once, until a line comes', () => {
    const once = [opened(0), looked(GRACE_MS, 5, true)];
    expect(after(...once, looked(GRACE_MS + 500, 5, true)).deeds).toEqual([]);
    expect(after(...once, { kind: 'line' }).silent).toBe('no more');
    expect(after(...once, { kind: 'line' }, { kind: 'line' }).deeds).toEqual([]);
  });
});

describe('a run that is ended', () => {
  it('takes back what stood, keeps why it was away, and nothing moves it any more', () => {
    const ended = after(opened(0), lost(5000, 4200), { kind: 'ended' });
    expect(ended).toMatchObject({ shown: 'ended', deeds: ['problem', 'changed'] });
    expect(lostOf(ended.state.phase)).toMatchObject({ sinceMs: 5000 });
    for (const late of [opened(1), lost(1), looked(99_999, 0, true), { kind: 'line' } as const, { kind: 'ended' } as const])
      expect(nextSource(ended.state, late, 0)).toEqual({ state: ended.state, deeds: [] });
  });
});

it('whatever happens in whatever order: silence is taken back before it is said again, and no gap ends before it begins', () => {
  const any = fc.oneof(
    fc.record({ kind: fc.constant('opened' as const), isLearning: fc.boolean() }),
    fc.record({ kind: fc.constantFrom('lost' as const, 'line' as const, 'recipe-used' as const, 'speed-changes' as const) }),
    fc.record({ kind: fc.constant('looked' as const), isQuiet: fc.boolean(), lines: fc.nat(2) }),
  );
  fc.assert(
    fc.property(fc.array(fc.tuple(any, fc.nat(4000)), { maxLength: 30 }), (happenings) => {
      let state: SourceState = startOfSource;
      let [nowMs, isSilent] = [0, false];
      for (const [one, restMs] of [...happenings, [{ kind: 'ended' as const }, 0] as const]) {
        nowMs += restMs;
        const happening = { atMs: nowMs, lastRecordedMs: nowMs - restMs, problem: away, ...one } as SourceHappening;
        const step = nextSource(state, happening, 0);
        state = step.state;
        for (const deed of step.deeds) {
          if (deed.kind === 'gap') expect(deed.fromMs).toBeLessThanOrEqual(deed.atMs);
          if (deed.kind !== 'problem' || deed.about !== 'silent') continue;
          expect(deed.problem === undefined).toBe(isSilent);
          isSilent = deed.problem !== undefined;
        }
        if (shownPhase(state.phase) !== 'running' && shownPhase(state.phase) !== 'learning') expect(isSilent).toBe(false);
      }
      expect(isSilent).toBe(false);
    }),
    { numRuns: 300 },
  );
});

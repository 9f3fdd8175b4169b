/** What the visits remember of one run beside what its chain says: where it started, its recent samples, the question about a shift. */
import type { Settings } from '../../shared/ipc/settings.ts';
import type { Setting } from '../../shared/measurement/mark.ts';
import { kindOf, type Adjuster } from '../../shared/tuning/trial/adjuster.ts';
import { shiftAnswered, startShiftWatch, watchMark, watchShift, type ShiftWatch } from '../../shared/tuning/trial/unmarked-shift.ts';
import type { RunFacts } from '../../shared/tuning/visit/visit-session.ts';
import type { RunNews } from '../runs/live/live-run-parts.ts';
import type { RunLook } from '../runs/run-service.ts';
import { createRecentSamples, type RecentSamples } from './recent-samples.ts';

export type RunState = {
  readonly runId: string;
  readonly samples: RecentSamples;
  readonly startSetting: Setting | undefined;
  /** the visit that it goes into */
  visitId: string | undefined;
  shift: ShiftWatch;
  /** as they were told last, as text */
  told: { trials: string; hints: string; asked: string | undefined; geometry: string };
};

export function startRunState({ info, marks }: RunLook): RunState {
  const { simulator, setting } = info;
  // the simulated burner knows its positions even when nobody has marked one
  const positions = simulator?.adjusters.map(({ name, value }) => ({ name, value }));
  const first = setting ?? (positions === undefined ? undefined : { stage: '1', positions });
  return {
    runId: info.runId,
    samples: createRecentSamples(),
    // after an adjustment nobody can say where it was before
    startSetting: marks.some(({ body }) => body.kind === 'adjustment') ? undefined : first,
    visitId: info.visitId,
    shift: startShiftWatch(),
    told: { trials: '', hints: '[]', asked: undefined, geometry: '' },
  };
}

/** @returns what has to be looked at again: what a person did at once, what the instrument did soon */
export function takeNews(state: RunState, news: RunNews): 'at-once' | 'soon' | undefined {
  switch (news.kind) {
    case 'sample':
      state.samples.add(news.sample);
      return undefined;
    case 'states': {
      const o2 = news.states.find(({ channel }) => channel === 'o2');
      if (o2 !== undefined) state.shift = watchShift(state.shift, o2);
      return undefined;
    }
    case 'mark':
      state.shift = watchMark(state.shift, news.mark);
      return 'at-once';
    case 'edit':
      return 'at-once';
    case 'reading':
    case 'changed':
      return 'soon';
    case 'restarted':
      state.samples.clear();
      state.shift = startShiftWatch();
      return 'at-once';
    case 'batch':
      return undefined;
    case 'resumed':
      // shifts from before are not asked about: whoever could answer has had the time
      state.shift = startShiftWatch();
      return 'at-once';
  }
}

export const answered = (state: RunState): void => void (state.shift = shiftAnswered(state.shift));

/** Fine, and what it moves, is what the settings say; without a word there the first one is fine, and only the usual two names are air. */
function simulatorAdjusters({ info }: RunLook, settings: Settings): Adjuster[] | undefined {
  return info.simulator?.adjusters.map(({ name, min, max, step }, index) => {
    const known = settings.adjusters.find((one) => one.name.toLowerCase() === name.toLowerCase());
    return {
      name,
      unit: '',
      min,
      max,
      step,
      role: (known?.coarse ?? index > 0) ? 'coarse' : 'fine',
      kind: known?.kind ?? kindOf({ name }),
    };
  });
}

export function factsOf({ startSetting }: RunState, look: RunLook, settings: Settings): RunFacts {
  const { info, marks, readings } = look;
  return {
    runId: info.runId,
    startWallMs: info.startWallMs,
    source: info.source.kind === 'serial' ? 'port' : info.source.kind,
    visitId: info.visitId,
    ended: info.phase === 'ended',
    startSetting,
    adjusters: simulatorAdjusters(look, settings),
    marks,
    readings,
  };
}

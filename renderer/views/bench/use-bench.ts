import { useStore } from 'zustand';
import { useApp, useParts } from '../../app-parts.ts';
import { selectMayAct } from '../../state/selectors.ts';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { benchScreenOf, type BenchScreen, type BenchState } from './bench-screen.ts';
import { formatDate } from '../../../shared/format/duration.ts';

export function useBenchScreen(): BenchScreen {
  return benchScreenOf(useParts());
}
export const useBench = <T>(select: (state: BenchState) => T): T => useStore(useBenchScreen().store, select);
export const useMayAct = (): boolean => useApp(selectMayAct);

/** Opens the set-up; `after`: of the next instrument, with the plan, gases and limits of this test. */
export function useSetUp(): (after?: BenchTest) => void {
  const screen = useBenchScreen();
  const today = useToday();
  const technician = useApp((state) => state.settings.technician.name);
  return (after) =>
    screen.setUp({
      after,
      technician,
      today: today(),
      dayOf: ({ startedWallMs, zoneMinutes }) => formatDate(startedWallMs, zoneMinutes),
    });
}

/** The day of the calendar at the bench, as the host judges a bottle by it: in UTC one that expires today would be refused in the evening west of it. */
export function useToday(): () => string {
  const { store } = useParts();
  const now = useNowWallMs();
  return () => {
    const run = Object.values(store.getState().runs).find(({ info }) => info.phase !== 'ended');
    const nowWallMs = now();
    return formatDate(nowWallMs, run?.info.zoneMinutes ?? -new Date(nowWallMs).getTimezoneOffset());
  };
}

/** The wall clock of the bench: that of the runs, so that practice in quick time stays in order. */
export function useNowWallMs(): () => number {
  const { store } = useParts();
  return () => {
    const runs = Object.values(store.getState().runs).filter(({ info }) => info.phase !== 'ended');
    const latest = Math.max(0, ...runs.map(({ info, face }) => info.startWallMs + face.timeMs));
    return Math.round(latest > 0 ? latest : Date.now());
  };
}

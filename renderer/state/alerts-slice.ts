import type { StateCreator } from 'zustand/vanilla';
import type { StandingProblem } from '../../shared/ipc/session-commands.ts';
import type { Alarm } from '../../shared/tuning/advice/alarms.ts';
import type { Problem } from '../../shared/problem.ts';

/** One cause, one alert: a repeat counts up. `answers` are problems of this window's own commands; they go when seen. */
export type AlertsSlice = {
  /** CO in the flue and in the room, as the host judges it */
  alarms: readonly Alarm[];
  alarmsChanged: (alarms: readonly Alarm[]) => void;
  standing: readonly StandingProblem[];
  answer: { problem: Problem; count: number } | undefined;
  problemsWelcomed: (problems: readonly StandingProblem[]) => void;
  problemRaised: (problem: StandingProblem) => void;
  problemCleared: (key: string) => void;
  commandFailed: (problem: Problem) => void;
  answerSeen: () => void;
};

export const createAlertsSlice: StateCreator<AlertsSlice> = (set) => ({
  alarms: [],
  alarmsChanged: (alarms) => set({ alarms }),
  standing: [],
  answer: undefined,
  problemsWelcomed: (standing) => set({ standing }),
  problemRaised: (raised) => set(({ standing }) => ({ standing: [...standing.filter(({ key }) => key !== raised.key), raised] })),
  problemCleared: (cleared) => set(({ standing }) => ({ standing: standing.filter(({ key }) => key !== cleared) })),
  commandFailed: (problem) =>
    set(({ answer }) => ({ answer: { problem, count: answer?.problem.code === problem.code ? answer.count + 1 : 1 } })),
  answerSeen: () => set({ answer: undefined }),
});

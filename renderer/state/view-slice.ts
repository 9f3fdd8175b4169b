import type { StateCreator } from 'zustand/vanilla';
import type { Lesson } from '../../shared/geometry/lesson.ts';
import type { Exercise } from '../../shared/warm-up/call-it.ts';

export const workspaces = ['tune', 'bench', 'warm-up', 'records'] as const;
export type Workspace = (typeof workspaces)[number];
/** At most one panel lies over the workspace. */
export type Panel = 'source' | 'lines' | 'settings' | 'keys' | 'port-help' | undefined;
export type SourceKind = 'serial' | 'typed' | 'simulated' | 'replay';
/** Small windows of the live view. */
export type Entry = 'probe' | 'smoke' | 'draft' | 'pressure' | 'note' | 'values' | 'table' | undefined;

export type ViewSlice = {
  workspace: Workspace;
  panel: Panel;
  sourceKind: SourceKind | undefined;
  entry: Entry;
  far: boolean;
  /** the right column, when it is folded */
  trialsOpen: boolean;
  /** what was typed for an adjuster of a run and is no position on its scale: it waits for the person to come back */
  markHeld: { runId: string; name: string; text: string; firstMs: number } | undefined;
  /** what was done last, said once in words; also spoken */
  said: string;
  /** verdicts are hidden and nothing sounds: a trainee is asked */
  callIt: boolean;
  /** the exercise that began the run; undefined where the run on screen is called as it is */
  exercise: Exercise | undefined;
  /** curves of the library that lie over each other; they stay when another workspace is looked at */
  curvesShown: ReadonlySet<string>;
  /** Look and tell: it stays when another workspace is looked at, for a burner of it can be fired there */
  lesson: Lesson | undefined;
  /** the cautions were acknowledged in this session */
  cautionsSeen: boolean;
  workspaceChosen: (workspace: Workspace) => void;
  panelOpened: (panel: Panel, sourceKind?: SourceKind) => void;
  entryOpened: (entry: Entry) => void;
  farTurned: () => void;
  trialsTurned: () => void;
  saidChanged: (said: string) => void;
  markWaits: (held: ViewSlice['markHeld']) => void;
  cautionsRead: () => void;
  callItTurned: (callIt: boolean) => void;
  exerciseBegun: (exercise: Exercise) => void;
  curvesChosen: (curves: ReadonlySet<string>) => void;
  lessonChanged: (lesson: Lesson | undefined) => void;
  /** the part of the window whose render threw: its own alarm band is gone with it */
  broken: string | undefined;
  viewBroke: (where: string) => void;
  viewMended: () => void;
};

export const createViewSlice: StateCreator<ViewSlice> = (set) => ({
  workspace: 'tune',
  panel: undefined,
  sourceKind: undefined,
  entry: undefined,
  far: false,
  trialsOpen: false,
  said: '',
  markHeld: undefined,
  cautionsSeen: false,
  callIt: false,
  exercise: undefined,
  curvesShown: new Set(),
  lesson: undefined,
  lessonChanged: (lesson) => set({ lesson }),
  // leaving the exercise ends it: the other workspaces show the verdicts
  workspaceChosen: (workspace) =>
    set({ workspace, panel: undefined, entry: undefined, callIt: false, exercise: undefined, broken: undefined }),
  panelOpened: (panel, sourceKind) => set({ panel, sourceKind, entry: undefined, broken: undefined }),
  entryOpened: (entry) => set({ entry }),
  farTurned: () => set(({ far }) => ({ far: !far, trialsOpen: false })),
  trialsTurned: () => set(({ trialsOpen }) => ({ trialsOpen: !trialsOpen })),
  saidChanged: (said) => set({ said }),
  markWaits: (markHeld) => set({ markHeld }),
  cautionsRead: () => set({ cautionsSeen: true }),
  callItTurned: (callIt) => set({ callIt, exercise: undefined }),
  curvesChosen: (curvesShown) => set({ curvesShown }),
  exerciseBegun: (exercise) => set({ callIt: true, exercise }),
  broken: undefined,
  viewBroke: (broken) => set({ broken }),
  viewMended: () => set({ broken: undefined }),
});

import type { StateCreator } from 'zustand/vanilla';

export const workspaces = ['tune', 'bench', 'warm-up', 'records'] as const;
export type Workspace = (typeof workspaces)[number];
/** At most one panel lies over the workspace. */
export type Panel = 'source' | 'lines' | 'settings' | 'keys' | 'port-help' | undefined;
export type SourceKind = 'serial' | 'typed' | 'simulated' | 'replay';
/** Small windows of the live view. */
export type Entry = 'smoke' | 'draft' | 'pressure' | 'note' | 'values' | 'table' | undefined;

export type ViewSlice = {
  workspace: Workspace;
  panel: Panel;
  sourceKind: SourceKind | undefined;
  entry: Entry;
  far: boolean;
  /** the right column, when it is folded */
  trialsOpen: boolean;
  /** what was done last, said once in words; also spoken */
  said: string;
  /** verdicts are hidden and nothing sounds: a trainee is asked */
  callIt: boolean;
  /** the cautions were acknowledged in this session */
  cautionsSeen: boolean;
  workspaceChosen: (workspace: Workspace) => void;
  panelOpened: (panel: Panel, sourceKind?: SourceKind) => void;
  entryOpened: (entry: Entry) => void;
  farTurned: () => void;
  trialsTurned: () => void;
  saidChanged: (said: string) => void;
  cautionsRead: () => void;
  callItTurned: (callIt: boolean) => void;
};

export const createViewSlice: StateCreator<ViewSlice> = (set) => ({
  workspace: 'tune',
  panel: undefined,
  sourceKind: undefined,
  entry: undefined,
  far: false,
  trialsOpen: false,
  said: '',
  cautionsSeen: false,
  callIt: false,
  // leaving the exercise ends it: the other workspaces show the verdicts
  workspaceChosen: (workspace) => set({ workspace, panel: undefined, entry: undefined, callIt: false }),
  panelOpened: (panel, sourceKind) => set({ panel, sourceKind, entry: undefined }),
  entryOpened: (entry) => set({ entry }),
  farTurned: () => set(({ far }) => ({ far: !far, trialsOpen: false })),
  trialsTurned: () => set(({ trialsOpen }) => ({ trialsOpen: !trialsOpen })),
  saidChanged: (said) => set({ said }),
  cautionsRead: () => set({ cautionsSeen: true }),
  callItTurned: (callIt) => set({ callIt }),
});

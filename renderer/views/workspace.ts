import type { ComponentType } from 'react';
import type { Workspace } from '../state/view-slice.ts';

/** A workspace is one component without properties: everything it needs comes from the store and the parts. */
export type WorkspaceModule = { default: ComponentType };

/** Loaded when first opened. To build one: replace the component in views/<name>/index.tsx. */
export const workspaceModules: Readonly<Record<Workspace, () => Promise<WorkspaceModule>>> = {
  tune: () => import('./tune/index.tsx'),
  bench: () => import('./bench/index.tsx'),
  'warm-up': () => import('./warm-up/index.tsx'),
  records: () => import('./records/index.tsx'),
};

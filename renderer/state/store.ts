/** The window's store: what changes at human speed. Samples never enter it. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { createAlertsSlice, type AlertsSlice } from './alerts-slice.ts';
import { createExportsSlice, type ExportsSlice } from './exports-slice.ts';
import { createHostSlice, type HostSlice } from './host-slice.ts';
import { createRunsSlice, type RunsSlice } from './runs-slice.ts';
import { createVisitSlice, type VisitSlice } from './visit-slice.ts';
import { createViewSlice, type ViewSlice } from './view-slice.ts';

export type AppState = HostSlice & RunsSlice & AlertsSlice & ViewSlice & VisitSlice & ExportsSlice;
export type AppStore = StoreApi<AppState>;

export const createAppStore = (): AppStore =>
  createStore<AppState>()((...args) => ({
    ...createHostSlice(...args),
    ...createRunsSlice(...args),
    ...createAlertsSlice(...args),
    ...createViewSlice(...args),
    ...createVisitSlice(...args),
    ...createExportsSlice(...args),
  }));

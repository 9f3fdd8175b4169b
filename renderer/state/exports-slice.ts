import type { StateCreator } from 'zustand/vanilla';
import type { CallInput } from '../../shared/ipc/contract.ts';
import type { ExportProgress } from '../../shared/ipc/run-documents.ts';

export type ExportUnderWay = {
  jobId: string;
  form: CallInput<'run.export'>['form'];
  /** missing until the host says that it takes longer */
  share?: number | undefined;
  leftMs?: number | undefined;
};

/** Exports that this window has asked for and that are not there yet. */
export type ExportsSlice = {
  exports: readonly ExportUnderWay[];
  exportBegan: (job: ExportUnderWay) => void;
  exportProgressed: (progress: ExportProgress) => void;
  exportOver: (jobId: string) => void;
};

export const createExportsSlice: StateCreator<ExportsSlice> = (set) => ({
  exports: [],
  exportBegan: (job) => set(({ exports }) => ({ exports: [...exports, job] })),
  exportProgressed: ({ jobId, share, leftMs }) =>
    set(({ exports }) =>
      exports.some((one) => one.jobId === jobId)
        ? { exports: exports.map((one) => (one.jobId === jobId ? { ...one, share, leftMs } : one)) }
        : {},
    ),
  exportOver: (jobId) => set(({ exports }) => ({ exports: exports.filter((one) => one.jobId !== jobId) })),
});

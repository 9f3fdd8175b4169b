/** Work that takes longer than a moment. */
export const progress = {
  reading: { curves: 'Reading the lines', readings: 'Looking for what had settled' },
  readingAbout: {
    curves: 'The curves grow while it is read.',
    readings: 'The curves are whole; the readings come one by one.',
  },
  writing: { run: 'Copying the run file', csv: 'Writing CSV', json: 'Writing JSON', text: 'Writing the lines' },
  stop: 'Stop',
  stopped: 'The export was stopped. Nothing was kept of it.',
  exports: 'Exports',
  percent: (share: number): string => `${Math.floor(share * 100)} %`,
  left: (time: string): string => `${time} left`,
} as const;

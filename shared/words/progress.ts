/** Work that takes longer than a moment. */
export const progress = {
  reading: { curves: 'Reading the lines', readings: 'Finding settled readings' },
  readingAbout: {
    curves: 'The curves grow while it is read.',
    readings: 'The curves are complete; readings follow one by one.',
  },
  writing: { run: 'Copying the run file', csv: 'Writing CSV', json: 'Writing JSON', text: 'Writing the lines' },
  stop: 'Stop',
  stopped: 'The export was stopped. Nothing was saved.',
  exports: 'Exports',
  percent: (share: number): string => `${Math.floor(share * 100)} %`,
  left: (time: string): string => `${time} left`,
} as const;

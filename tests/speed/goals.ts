/** The table of what a person waits for, with its goals: printed at the end of `npm run speed`, and written into one file. */
type Figure = { readonly name: string; readonly value: number; readonly unit: string; readonly repeats: number };
type Goal = {
  readonly what: string;
  /** the figure as its program reports it, or where else it is measured */
  readonly figure: string | { readonly measuredBy: string };
  readonly atMost: number;
  readonly unit: string;
};

const goals: readonly Goal[] = [
  { what: 'a stored day at 10 Hz, opened first: curves', figure: 'its curves are whole', atMost: 1.2, unit: 's' },
  { what: 'a stored day at 10 Hz, opened first: everything read', figure: 'all of it is read', atMost: 5, unit: 's' },
  { what: 'the same opened after a restart', figure: 'the same day opened after a restart', atMost: 0.5, unit: 's' },
  { what: 'a report of a run of yesterday', figure: 'its report after a restart', atMost: 0.5, unit: 's' },
  {
    what: 'Report step opened to its first page, after half an hour, two busy programs beside it',
    figure: 'Report step opened to its first page, busy',
    atMost: 1000,
    unit: 'ms',
  },
  { what: 'its export as CSV', figure: 'export as csv', atMost: 3, unit: 's' },
  { what: 'its export as JSON', figure: 'export as json', atMost: 4, unit: 's' },
  { what: 'its export as text', figure: 'export as text', atMost: 0.6, unit: 's' },
  {
    what: 'longest stall of the loop that stamps lines, beside all of these',
    figure: { measuredBy: 'npm run soak -- stamps' },
    atMost: 30,
    unit: 'ms',
  },
  { what: 'settling, one sample of four channels', figure: 'per sample', atMost: 6, unit: 'us' },
  { what: 'read of an hour at 10 Hz, processor time', figure: 'read of an hour at 10 Hz, processor time', atMost: 0.8, unit: 's' },
  { what: 'command line, start to answer, through npm', figure: 'command line, start to answer, through npm', atMost: 0.35, unit: 's' },
  { what: 'command line, start to answer', figure: 'command line, start to answer', atMost: 0.15, unit: 's' },
  { what: 'start to address (npm start, without npm)', figure: 'host started to address', atMost: 0.7, unit: 's' },
  {
    what: 'start to the first value on screen (npm start, without npm)',
    figure: 'started to the first value on screen',
    atMost: 1.3,
    unit: 's',
  },
  { what: 'page to the first value on screen, run under way', figure: 'page to first figure, run under way', atMost: 1300, unit: 'ms' },
  { what: 'script loaded before the first figure', figure: 'script loaded before the first figure', atMost: 450, unit: 'kB' },
  {
    what: 'live at 1 line a second, host and window, of one core',
    figure: 'live at 1 line a second, host and window',
    atMost: 5,
    unit: '%',
  },
  { what: 'live at 1 line a second, host alone, of one core', figure: 'live at 1 line a second, host alone', atMost: 1, unit: '%' },
  { what: 'host memory while live, resident', figure: 'host memory, resident, while live', atMost: 75, unit: 'MB' },
  { what: 'host memory more after a day of four runs', figure: { measuredBy: 'npm run soak -- day' }, atMost: 15, unit: 'MB' },
  {
    what: '1 M point chart, worst frame (95 % of them), processor time',
    figure: '1 M points in history: worst frame (95 %), processor time',
    atMost: 16,
    unit: 'ms',
  },
  {
    what: '2 000 lines a second beside four windows, press to picture',
    figure: '2 000 lines a second, four windows: press to picture',
    atMost: 60,
    unit: 'ms',
  },
  {
    what: 'the same: lines missing in the run file',
    figure: '2 000 lines a second, four windows: lines missing',
    atMost: 0,
    unit: 'lines',
  },
];

/** @returns the table as lines of a Markdown file */
export function goalTable(machine: string, figures: readonly Figure[]): string[] {
  const rows = goals.map(({ what, figure, atMost, unit }) => {
    const goal = `${atMost} ${unit}`;
    if (typeof figure !== 'string') return [what, `\`${figure.measuredBy}\``, '', goal, ''];
    const found = figures.findLast(({ name }) => name === figure);
    if (found === undefined) return [what, 'not measured in this run', '', goal, ''];
    return [
      what,
      `${Number(found.value.toPrecision(3))} ${unit}`,
      String(found.repeats),
      goal,
      found.value <= atMost ? 'reached' : 'not reached',
    ];
  });
  return [
    `Measured on: ${machine}. Medians of so many times.`,
    '',
    '| figure | measured | times | goal, at most | |',
    '| --- | --- | --- | --- | --- |',
    ...rows.map((cells) => `| ${cells.join(' | ')} |`),
  ];
}

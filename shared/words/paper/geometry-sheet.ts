/** The sheet of electrodes, nozzle and head, and the one that is true to size. */

export const geometryReport = {
  title: 'Electrodes, nozzle and head',
  onPage1: (line: string): string => `Electrodes, nozzle and head: ${line}.`,
  noCard: 'No figures card was chosen: shown as measured.',
  photos: (where: string): string => `Photos before anything was moved: ${where}.`,
  photosTitle: 'Photos before anything was moved',
  photo: (name: string, time: string, hash: string): string => `${name}, attached ${time}, SHA-256 ${hash}`,
  photoNotHere: {
    missing: (name: string): string => `${name}: this photo is not on this computer.`,
    altered: (name: string): string => `${name}: this file is no longer what was attached, so it is not shown.`,
  },
  card: (name: string, revision: number, source: string, training: boolean): string =>
    `Figures: ${name}, revision ${revision}, from ${source}${training ? ', invented for training' : ''}.`,
  loose: (count: number): string => (count === 1 ? 'One part was not said to be tight.' : `${count} parts were not said to be tight.`),
  changed: (stale: number): string =>
    stale === 0
      ? 'Parts were moved; what depends on them was measured again.'
      : `Parts were moved; ${stale === 1 ? 'one figure that depends on them was' : `${stale} figures that depend on them were`} not measured again.`,
  line: ({
    measured,
    judged,
    wrong,
    stale,
    loose,
  }: {
    measured: number;
    judged: number;
    wrong: readonly string[];
    stale: number;
    loose: number;
  }): string =>
    [
      judged === 0
        ? `${measured} figures measured, without a maker’s figure to judge them by`
        : wrong.length === 0
          ? `all ${judged} judged figures are as the maker wants them`
          : `${judged - wrong.length} of ${judged} as the maker wants them; not: ${wrong.join(', ')}`,
      stale === 0 ? undefined : `${stale} to be measured again`,
      loose === 0 ? undefined : `${loose} not said to be tight`,
    ]
      .filter((part) => part !== undefined)
      .join('; '),
} as const;

export const trueSizeWords = {
  title: 'True-size sheet',
  bar: 'A bar of 6 inches, 152.4 mm',
  prove: '1 Prove the scale',
  proveAbout: 'Print at 100 %. Hold a steel rule to the bar and type its length into Flueside.',
  proveLine: (least: string, most: string): string =>
    `The bar measured ____________ mm. Good: ${least} to ${most} mm. Otherwise do not use this sheet.`,
  hold: '2 Hold the part beside it',
  front: 'from the front, looking at the nozzle',
  inches: 'inches',
  mm: 'mm',
  columns: ['length', 'measured', 'card', 'verdict'],
  read: 'How to read it',
  readAbout: [
    'Solid lines: as measured, or as the card wants them where nothing was measured. Brackets: where the card wants the part. Part and line should cover each other.',
    'Shapes of nozzle, head and tube are plain; only the dimensions count.',
  ],
  foot: 'Power off and tested, oil valve closed, burner cool. A drawing does not replace the gauge or the maker’s instructions. Local code and the burner maker’s instructions come first.',
  sheet: 'sheet 1 of 1',
  about: 'The parts at 1:1, with a bar that proves the scale of the printer.',
  paper: 'Paper',
  papers: { letter: 'Letter', a4: 'A4' },
  make: 'Make the PDF',
  field: 'The bar measured',
  notALength: 'Type the length of the printed bar in mm.',
  notTrue: (measured: string): string =>
    `${measured} is off by more than 1 %. The sheet is not true to size: print it again at 100 %, without "fit to page".`,
  isTrue: 'True to size.',
  save: 'Save as proven',
  notProven: 'Not proven yet. Without it the sheet shows shapes, no lengths.',
  proven: (barMm: number, paper: string): string =>
    `True-size sheet proven on ${paper}: the bar of 152.4\u2009mm measured ${Number(barMm.toFixed(1))}\u2009mm.`,
} as const;

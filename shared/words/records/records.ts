/** Said in bold, in plain, and as what to do next. */
type Story = readonly [bold: string, plain: string, next: string];

/** Words of the Records workspace. */
export const records = {
  sections: {
    visits: 'Visits',
    appliances: 'Appliances',
    runs: 'Runs',
    instruments: 'Instruments',
    figures: 'Figures cards',
    office: 'Office',
    keeping: 'Storage',
  },
  sectionsLabel: 'Parts of the records',
  search: 'Find appliance, visit, name or date',
  searchPlaceholder: 'Find appliance, visit…',
  count: (shown: number, total: number): string => (shown < total ? `${shown} of ${total}` : String(total)),
  more: 'Show more',
  noneFound: (words: string): string => `Nothing is found for “${words}”.`,
  noneFoundNext: 'Try fewer letters, a number of a visit, or a date like 2026-11.',
  empty: 'No visit yet.',
  emptyAbout: 'A visit started in Tune is saved here from its first minute.',
  toTune: 'Start one in Tune',
  noAppliances: 'No appliance yet.',
  noAppliancesAbout: 'An appliance is named at the start of a visit; its plates, owner and next date are then saved here.',
  noRuns: 'No run yet.',
  noRunsAbout: 'A run begins when a source is connected in Tune; every line of it is saved here.',
  noInstruments: 'No instrument yet.',
  noInstrumentsAbout: 'Instruments are entered in Bench, with their cells and tests.',
  instrument: {
    toBench: 'Open in Bench',
    tests: 'Bench tests',
    testCount: (count: number): string => (count === 0 ? 'no bench test yet' : count === 1 ? 'one bench test' : `${count} bench tests`),
    noTests: 'No bench test yet. Test it in Bench against fresh air and bottled gas: the tolerance of every reading rests on it.',
    times: (channel: string, t90: string, dead: string | undefined): string =>
      `${channel} T90 ${t90}${dead === undefined ? '' : ` (dead time ${dead})`}`,
    known: (day: string, times: readonly string[]): string =>
      `From the bench test of ${day} Flueside knows how quickly its cells answer: ${times.join(', ')}. The next run of a visit with it begins with that.`,
    forgetAbout:
      'The next run begins as with a new instrument, until the next bench test. Runs that were measured keep what they began with, so that their readings stay the same.',
    due: 'Next bench test due',
    noDue: 'no date: its certificate has none',
    drift: 'Drift and response of the cells',
    since: (day: string): string => `installed ${day}`,
    range: (from: string, to: string): string => `range ${from} to ${to}`,
    test: {
      day: 'tested',
      result: 'result',
      t90: 'T90',
      state: 'certificate',
    },
    states: { open: 'not closed', closed: 'not signed', signed: 'signed', simulated: 'simulated' },
  },

  visit: (number: number): string => `Visit ${number}`,
  status: { open: 'not signed yet', training: 'training, closed', signed: 'signed' },
  watermarked: 'simulated or replayed',
  withoutAppliance: 'no appliance named',
  appliance: (visits: number, since: string | undefined): string =>
    [visits === 0 ? 'no visit yet' : visits === 1 ? 'one visit' : `${visits} visits`, since === undefined ? undefined : `since ${since}`]
      .filter(Boolean)
      .join(' '),
  due: (day: string): string => `due ${day}`,
  dueToday: 'due today',
  overdue: (day: string): string => `overdue since ${day}`,
  overdueCount: (count: number): string => (count === 1 ? 'one is overdue' : `${count} are overdue`),
  sortedBy: 'Sorted by',
  sorts: { due: 'next due', name: 'name', changed: 'last changed' },
  pseudonymised: 'owner details removed',

  compareTable: 'Figures compared',
  compareWith: 'Space puts a visit into the comparison',
  columns: {
    a: 'A, as-left',
    found: 'B, as-found',
    left: 'B, as-left',
    oneFound: 'as-found',
    oneLeft: 'as-left',
    difference: 'as-left, change B − A',
    unit: 'unit',
    figure: 'figure',
  },
  /** what tells a figure from its like, where its name does not */
  basis: { o2Percent: 'dry', coPpm: 'as measured' } as Readonly<Record<string, string | undefined>>,
  within: (half: string): string => `within ${half}`,
  smoke: 'Smoke',
  story: {
    warmer: (n: number): Story => [
      `The stack left warmer than at visit ${n}`,
      ' by more than the uncertainty. ',
      'Look for soot in the passes.',
    ],
    cooler: (n: number): Story => [`The stack left cooler than at visit ${n}`, ' by more than the uncertainty.', ''],
    drop: (n: number): Story => [
      `The draft drop has grown since visit ${n}`,
      ' by more than the uncertainty. ',
      'Look for soot in the passes or a blocked flue passage.',
    ],
    efficiency: (n: number): Story => [
      `The efficiency left lower than at visit ${n}`,
      ' by more than the uncertainty. ',
      'Compare air, stack and draft.',
    ],
    moved: (n: number, names: readonly string[]): Story => [
      `${names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`} moved since visit ${n}`,
      ' by more than the uncertainty. The other figures did not.',
      '',
    ],
    sameOfRest: (n: number): Story => [`Of what can be compared nothing has moved by more than its uncertainty since visit ${n}`, '.', ''],
    nothingComparable: (n: number): Story => [`No figure of this visit can be compared with visit ${n}`, '; the reason stands below.', ''],
    same: (n: number): Story => [`Nothing has moved by more than its uncertainty since visit ${n}`, '.', ''],
    nothingInBoth: (n: number): Story => [`No figure is in both this visit and visit ${n}`, ', so there is nothing to compare.', ''],
    onlyOne: ['There is nothing to compare with yet', '. It needs a second visit at this appliance.', ''],
  },
  history: (name: string): string => `${name}, each visit`,
  historyOf: 'History of',
  asFound: 'as-found',
  asLeft: 'as-left',
  historyEmpty: 'No visit of this appliance has this figure.',
  historyTable: 'The same as a table',

  actions: {
    open: 'Open in Tune',
    report: 'Report',
    back: 'Back to the records',
    export: 'Export',
    exportAll: 'Export these visits',
    remove: 'Delete',
    pseudonymise: 'Remove owner details',
    edit: 'Edit',
    removeAppliance: 'Delete appliance',
  },
  removeVisit: (number: number): string => `Delete visit ${number}?`,
  removeVisitAbout: 'It is deleted from the records for good. Its run stays under Runs. Backups and copies made before still hold it.',
  signedStays: 'A signed visit is locked. It cannot be deleted here; later changes are added with a reason.',
  pseudonymiseTitle: (name: string): string => `Remove owner details from “${name}”?`,
  pseudonymiseAbout:
    'Name, place, owner, contact and notes of this appliance are deleted, also in the list of its changes, and so are these words in its unsigned visits and curves. The machine’s history stays. Signed visits stay as signed, runs still have the notes typed into them, photos stay as they are (take out one that shows a person), and copies made before still hold everything: those in the data folder are listed under Storage.',
  stillIn: (numbers: readonly number[]): string =>
    numbers.length === 1
      ? `Visit ${numbers[0]} is signed and names the person in its text. What was signed is not changed.`
      : `Visits ${numbers.join(', ')} are signed and name the person in their text. What was signed is not changed.`,
  removeApplianceTitle: (name: string): string => `Delete “${name}”?`,
  removeApplianceAbout: 'It has no visits, so nothing else goes with it.',
  hasVisits: 'Visits belong to this appliance: remove the owner details instead.',
  yesRemove: 'Delete',
  yesPseudonymise: 'Remove owner details',
  known: (visits: number): string =>
    `From ${visits === 1 ? '1 visit' : `${visits} visits`} Flueside knows how quickly this appliance and its instrument settle. The next run begins with it.`,
  forgetKnown: 'Forget this',
  forgetKnownTitle: 'Forget what was learned?',
  forgetKnownAbout:
    'The next run begins as with a new appliance. Runs that were measured keep what they began with, so that their readings stay the same.',
  yesForget: 'Forget',

  correct: {
    action: 'Add a correction',
    title: (number: number): string => `Correction to visit ${number}`,
    about: 'What was signed stays as it is. The correction is added, here and in the report, with your name, the time and the reason.',
    field: 'What is wrong',
    stands: 'It says now',
    value: 'It should be',
    reason: 'Reason',
    reasonHint: 'For example: read from the wrong line of the sheet.',
    reasonMissing: 'Say why, in three letters or more.',
    same: 'It says this already.',
    empty: 'This cannot be left blank.',
    note: 'A note, added',
    noteOf: (text: string): string => `Note: ${text}`,
    save: 'Add the correction',
  },
  audit: 'What was changed, by whom and why',
  auditNone: 'Nothing was changed after it was first saved.',
  auditOfAppliance: 'What was changed of the appliance, and by whom',
  auditEarlier: (count: number): string =>
    `${count === 1 ? 'One earlier change is' : `${count} earlier changes are`} saved but not shown here.`,
  auditColumns: { time: 'time', by: 'by', field: 'field', before: 'before', after: 'after', reason: 'reason' },
  correction: 'after signing',
  lock: 'Signing and locking',
  lockWords: {
    signed: (name: string, time: string): string =>
      `Signed by ${name}, ${time}. The record is locked; corrections are added with a reason.`,
    training: 'Closed as training. Simulated, replayed and training visits are never signed.',
    open: 'Not signed yet. Every change is saved with what was there before.',
  },
  hash: 'Hash of the signed record',

  facts: {
    kind: 'Kind',
    maker: 'Maker and type',
    serial: 'Serial number',
    year: 'Year',
    ratedInput: 'Rated input',
    ratedOutput: 'Rated output',
    burner: 'Burner',
    tank: 'Oil tank',
    flueGas: 'Flue gas',
    place: 'Place',
    owner: 'Owner',
    contact: 'Contact',
    consent: 'Saved with consent',
    notes: 'Notes',
    due: 'Next visit due',
    noDue: 'no date set',
    setDue: 'Set date',
    dueHint: 'Year-month-day, for example 2027-11-30; empty takes it away.',
  },
  particulars: {
    title: (name: string): string => `Details of ${name}`,
    groups: { appliance: 'Appliance, from its plate', burner: 'Burner, from its plate', person: 'Place and owner' },
    labels: {
      name: 'Name',
      kind: 'Kind',
      maker: 'Maker',
      model: 'Type',
      serial: 'Serial number',
      year: 'Year',
      ratedInput: 'Rated input',
      ratedOutput: 'Rated output',
      tank: 'Oil tank',
      flueGas: 'Flue gas',
      nextDue: 'Next visit due',
      burnerMaker: 'Burner maker',
      burnerModel: 'Burner type',
      burnerSerial: 'Burner serial number',
      burnerYear: 'Burner year',
      place: 'Place, address or a word for it',
      owner: 'Owner',
      contact: 'Contact',
      notes: 'Notes',
    },
    notSaid: 'not said',
    consent: 'The owner agrees that place, name and contact are saved',
    personAbout: 'All of this may stay blank. “Remove owner details” deletes it later; the machine’s history stays.',
    nameMissing: 'Give it a name, for example boiler in the cellar.',
    yearWrong: 'Type a year like 2011, or leave it blank.',
    powerWrong: 'Type the figure of the plate, more than 0 and at most 20 000 kW.',
    lookAgain: 'Nothing was saved: a field needs another look.',
  },
  runColumns: { begun: 'started', source: 'source', lasts: 'lasts', lines: 'lines', visit: 'visit', state: 'state' },
  runStates: { ended: 'ended', open: 'not ended', damaged: 'damaged at the end' },
  unreadable: 'This visit cannot be read.',
  unreadableAbout: 'Nothing was changed or deleted. An earlier backup may hold it whole. The other visits are not affected.',
  runLook: 'Look',
  runBack: 'Back to the runs',
  runNone: 'This run cannot be read.',
  runNoneAbout: 'Its file is damaged from the start, or was taken away. The raw lines, if there are any, can still be exported.',
  runWhole: 'Whole run',
  runIn: 'Closer',
  runOut: 'Wider',
  runEarlier: 'Earlier',
  runLater: 'Later',
  runTrend: (from: string, to: string): string => `Trend of the run, ${from} to ${to}`,
  exportRun: { run: 'Run file', csv: 'CSV', json: 'JSON', text: 'Lines' },

  copies: {
    title: 'Copies in the data folder',
    about:
      'Each holds everything as it was then, including owner details and visits that were deleted since. Delete what you no longer need. Copies on other disks are yours to look after.',
    none: 'There are no copies.',
    columns: { what: 'what', made: 'made', size: 'size' },
    kinds: {
      backup: 'Backup',
      'before-restore': 'What a restore replaced',
      'before-update': 'Records before an update',
      damaged: 'Damaged records, set aside',
    },
    restore: 'Restore',
    restoreOf: (name: string): string => `Restore ${name}`,
    remove: 'Delete',
    removeOf: (name: string): string => `Delete ${name}`,
    sure: (kind: string): string => `Delete this copy: ${kind.toLowerCase()}?`,
    sureAbout: (name: string): string => `${name} goes for good. The records themselves stay as they are.`,
  },
  keeping: {
    title: 'Backup, moving and storage',
    backup: 'Backup',
    backupAbout:
      'One zip with all visits, appliances, instruments, runs, recipes and settings. It is read back and compared before it is offered. Keep it on another disk.',
    makeBackup: 'Make a backup',
    making: 'The backup is being made and read back.',
    made: (name: string): string => `${name} is ready.`,
    restore: 'Restore',
    restoreAbout: 'Replaces what is here by a backup. What is here now is first moved to a folder of its own, and you are told its name.',
    chooseBackup: 'Choose a backup',
    restoreSure: 'Restore this backup?',
    restoreSureAbout: (name: string): string =>
      `Everything in the records is replaced by what ${name} holds. What is here now is saved in a folder beside it.`,
    yesRestore: 'Restore',
    restoring: 'The backup is being unpacked and checked.',
    restored: (files: number, kept: string): string => `${files} files were restored. What was here before is in the folder ${kept}.`,
    move: 'Another computer',
    moveAbout:
      'Visits that were exported on another computer are added to those here. What is here already is skipped; what differs is added as a copy. Nothing is overwritten.',
    chooseVisits: 'Add visits from a file',
    movedIn: (count: {
      added: number;
      same: number;
      corrected: number;
      copies: number;
      refused: number;
      appliances: number;
      instruments: number;
      runs: number;
    }): string => {
      const parts = [
        `${count.added === 0 ? 'No visit was' : count.added === 1 ? 'One visit was' : `${count.added} visits were`} added`,
        count.runs === 0 ? undefined : `${count.runs} run ${count.runs === 1 ? 'file' : 'files'} came with them`,
        count.instruments === 0
          ? undefined
          : `${count.instruments === 1 ? 'one instrument' : `${count.instruments} instruments`} came with them`,
        count.same === 0 ? undefined : `${count.same} ${count.same === 1 ? 'was' : 'were'} here already`,
        count.corrected === 0 ? undefined : `corrections were added to ${count.corrected}`,
        count.copies === 0
          ? undefined
          : `${count.copies} differed and ${count.copies === 1 ? 'was' : 'were'} added as ${count.copies === 1 ? 'a copy' : 'copies'}`,
        count.refused === 0
          ? undefined
          : `${count.refused} ${count.refused === 1 ? 'was' : 'were'} refused: not readable, or not what was signed`,
      ].filter((part) => part !== undefined);
      return `${parts.join('; ')}.`;
    },
    tooBig: 'This file is too big for this window. Export fewer visits at a time, or make a backup and restore that.',
    diskFull: 'There is not enough free space for this file. Free some space, then try again.',
    failed: 'The file was not received. Try again.',
    folder: 'Where everything is saved',
    folderAbout: 'Runs are plain text files; records are one SQLite file.',
    retention: 'How long to keep',
    retentionAbout: [
      'Rules differ by place and plant, and come first. Look up the one that applies here.',
      'For liability it is common practice to keep records as long as the warranty or the local limitation period, six to ten years.',
      'A person may ask for their details to be removed: “Remove owner details” keeps the machine’s history. Training records need no address at all.',
      'Nothing is deleted by itself.',
    ],
  },
} as const;

export const reportView = {
  title: (number: number): string => `Report of visit ${number}`,
  paper: 'Paper',
  papers: { a4: 'A4', letter: 'Letter' },
  print: 'Print',
  save: 'Save as',
  forms: { pdf: 'PDF', html: 'HTML', csv: 'CSV', json: 'JSON', owner: 'Owner’s page', label: 'Burner label', annex: 'PDF with all edits' },
  preparing: 'Preparing the pages.',
  none: 'There is no preview now.',
  noneAbout: 'The visit is complete in the records.',
  preview: 'Preview of the report',
  saving: (form: string): string => `Preparing the ${form}.`,
  saved: (name: string): string => `${name} was saved to the downloads.`,
} as const;

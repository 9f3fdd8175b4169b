/** Every sentence of the report. Short, to one person, no more certainty than the figures carry. */
const small = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];
const counted = (count: number): string => small[count] ?? String(count);
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const joined = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;

/** What rests on memory is not printed as a source; nor is the name of a contributor's file. */
export const verifiedSource = (source: string): string =>
  source
    .split(/;\s*(?![^(]*\))/)
    .filter((part) => !/from memory/i.test(part))
    .join('; ')
    .replace(/ ?\(?FORMULAS\.md(?:#[\w-]+)?\)?/, '')
    .replace(/[;, ]+$/, '');

export const reportWords = {
  title: 'Burner tune-up',
  visit: (number: number): string => `Visit ${number}`,
  training: 'training',
  time: (from: string, to: string | undefined): string => (to === undefined ? `started ${from}, not closed yet` : `${from} to ${to}`),
  nozzle: (flow: string, angle: string | undefined, pressure: string | undefined): string =>
    ['nozzle', flow, angle, pressure === undefined ? undefined : `at ${pressure}`].filter((part) => part !== undefined).join(' '),
  noAppliance: 'No appliance named',
  noFuel: 'fuel not named',
  benchTested: (day: string): string => `bench test ${day}`,
  noBenchTest: 'no bench test on file',

  // tape
  tape: {
    simulated: 'Simulated data, not a measurement',
    replay: 'Replayed data, not a measurement of today',
    training: 'Training visit, not a service record',
    typed: 'Figures typed from a display',
  },

  // verdict
  headline: {
    noReading: 'The work is not finished: there is no as-left reading.',
    noCard: 'Read as found and as left; no limits were chosen.',
    stale: 'The as-left reading is out of date: something was changed after it.',
    limits: (count: { pass: number; fail: readonly string[]; close: readonly string[]; unknown: readonly string[] }): string => {
      const total = count.pass + count.fail.length + count.close.length + count.unknown.length;
      const met =
        count.pass === 0
          ? undefined
          : count.pass === total
            ? total === 1
              ? 'The limit is met.'
              : `All ${counted(total)} limits met.`
            : `${capital(counted(count.pass))} ${count.pass === 1 ? 'limit' : 'limits'} met.`;
      const fail = count.fail.length === 0 ? undefined : `${capital(joined(count.fail))} ${count.fail.length === 1 ? 'fails' : 'fail'}.`;
      const close =
        count.close.length === 0
          ? undefined
          : `${capital(joined(count.close))} ${count.close.length === 1 ? 'is' : 'are'} too close to call.`;
      const unknown =
        count.unknown.length === 0
          ? undefined
          : `${capital(joined(count.unknown))} ${count.unknown.length === 1 ? 'is' : 'are'} not known.`;
      return [fail, met, close, unknown].filter((part) => part !== undefined).join(' ');
    },
  },
  about: {
    smoke: (smoke: string): string => `Smoke ${smoke}`,
    reserve: (reserve: string): string => ` with a reserve of ${reserve} points of O2`,
    noReserve: ', reserve not known',
    noSmoke: 'Smoke not taken',
    safety: (parts: readonly string[]): string => `Safety run-through: ${parts.join(', ')}.`,
    passed: (count: number): string => `${count} passed`,
    failed: (count: number): string => `${count} failed`,
    notApplicable: (count: number): string => `${count} not applicable`,
    open: (count: number): string => `${count} not done`,
    notBegun: 'Safety run-through: not done.',
  },

  // card
  cardTitle: 'As-found and as-left against the target card',
  figuresTitle: 'As-found and as-left',
  columns: { quantity: '', found: 'as-found', left: 'as-left', limit: 'limit, source', scale: '', verdict: 'verdict' },
  notTaken: 'not taken',
  limit: {
    between: (low: string, high: string): string => `${low} to ${high}`,
    most: (high: string): string => `at most ${high}`,
    below: (high: string): string => `below ${high}`,
    least: (low: string): string => `at least ${low}`,
  },
  atStages: (name: string, stages: readonly string[]): string => `${name} (${stages.length === 1 ? 'stage' : 'stages'} ${joined(stages)})`,
  noReadings: 'No reading was taken.',
  plusMinus: '± is the expanded uncertainty, k = 2.',
  /** read out instead of the drawn scale */
  scaleLabel: (name: string, figure: string, limit: string, verdict: string): string => `${name} ${figure}, limit ${limit}: ${verdict}`,
  /** both are rounded to the same digits, and yet they differ */
  looksAlike: (value: string, limit: string): string => `value and limit look alike because both are rounded: ${value} against ${limit}.`,
  rule: (name: string, about: string): string => `Decision rule: ${name.toLowerCase()}. ${about}`,
  readingNote: (which: string, scope: string, from: string, to: string, values: number, settled: boolean): string =>
    `${which} is the ${scope} reading of ${from} to ${to}, ${values} values, ${settled ? 'settled' : 'taken by hand before everything had settled'}.`,
  sourceBelow: (number: number): string => `source ${number}, below`,
  sourceNumber: (number: number): string => `Source ${number}`,
  scopes: { gas: 'gas', full: 'full' },
  skipped: (reason: string): string => `No as-found reading: ${reason}`,

  // curve, setting, saving, terms
  curveTitle: 'Air curve',
  ofStage: (name: string, title: string): string => `Stage ${name}: ${title.charAt(0).toLowerCase()}${title.slice(1)}`,
  stagesBehind: (names: readonly string[]): string =>
    `${names.length === 1 ? `Stage ${joined(names)} is` : `Stages ${joined(names)} are`} in the technical record, with ${names.length === 1 ? 'its' : 'their'} own limits and curve.`,
  noCurve: 'No air curve: there is no trial with O2.',
  smokeAxis: 'smoke',
  coAxis: 'CO ppm',
  o2Axis: 'O2 %, dry',
  settingTitle: 'Setting left',
  was: (value: string): string => `was ${value}`,
  locked: 'locked',
  noSetting: 'Not entered.',
  savingTitle: 'What it saves',
  noSaving: 'Not known.',
  savingFigure: (percent: string): string => `${percent} of the fuel at steady running, from the two efficiencies.`,
  /** @param saved one part a unit: "18 ±1 gallons", or "70 ±4 litres" and "59 ±3 kg" */
  savingYear: (annual: string, saved: readonly string[], co2: string | undefined): string =>
    `At ${annual} a year: ${saved.join(' or ')}${co2 === undefined ? '' : `, ${co2} kg CO2`}.`,
  fuelVolume: { us: 'gallons', metric: 'litres' },
  fuelMass: 'kg',
  sameEfficiency: (half: string): string => `No saving is claimed: the efficiency is the same within ±${half} points.`,
  moreFuel: (percent: string): string => `${percent} more fuel than as found, from the two efficiencies.`,
  termsTitle: 'How the efficiency was found',
  terms: {
    fuel: 'fuel, HHV',
    lossDryGasPercent: 'dry gas',
    lossLatentPercent: 'latent heat',
    lossVapourPercent: 'water vapour',
    lossAirMoisturePercent: 'air moisture',
    lossCoPercent: 'CO',
    efficiency: 'efficiency',
  },
  termsNote: (lhv: string | undefined): string =>
    `Stack-loss method on the higher heating value (HHV), % of heat input. Jacket and standby losses are not included.${lhv === undefined ? '' : ` On the lower heating value: ${lhv} %.`}`,
  noTerms: (why: string): string => `The efficiency is blank: ${why}`,
  noFullReading: 'no full reading with O2, stack and air temperature.',

  // signature
  signTechnician: 'Technician, licence number',
  signDate: 'Date and time',
  notSigned: 'Not signed yet',
  neverSigned: 'Training: closed without signature',
  signed: 'Signed in Flueside',
  signedBy: (name: string, time: string): string => `Signed by ${name}, ${time}`,
  signatureHash: (hash: string): string => `record ${hash}`,
  corrections: (count: number): string =>
    count === 1 ? 'One correction after signing, see the last part.' : `${count} corrections after signing, see the last part.`,

  // foot
  foot: 'CO in the room: 9 ppm find the source, 35 ppm stop the job, 100 ppm everybody out and call for help from outside. Never relight with unburned oil in the chamber. Flueside advises; it is no safety device and no substitute for a calibrated instrument. Local code and the burner maker’s instructions come first.',
  page: 'page',
  of: 'of',
  run: (hash: string): string => `run ${hash}`,

  copyNote: (number: number): string => `Copy of visit ${number} as it came from another computer; the visit that was here differs.`,
  copySigned: (name: string, time: string, hash: string): string =>
    `There it is signed by ${name} at ${time}, record ${hash}; the signature does not cover this copy.`,
  ownerTitle: 'For the owner',
  recordTitle: 'Technical record',
} as const;

/** The card that hangs at the burner. */
export const labelWords = {
  title: 'Burner as left',
  nozzle: 'Nozzle',
  pressure: 'Oil pressure',
  stages: 'At stage',
  due: 'Next visit',
  noDue: 'no date set',
  reset: 'One reset only. Locks out again: leave off, call.',
  licence: (licence: string): string => `licence ${licence}`,
  unsigned: 'not signed',
  training: 'Exercise. These figures are of no real burner.',
  notSafe: 'Not safe to leave running. Do not run it.',
  leftOff: 'Left off and red-tagged. Do not run it.',
} as const;

/** One sheet of several visits. */
export const comparisonWords = {
  title: 'Visits beside each other',
  asLeft: 'as left',
  due: (day: string): string => `next visit ${day}`,
  unsigned: 'not signed',
  training: 'training',
  tape: 'With training visits, which are no service record',
  note: 'Each visit as its first stage was left. ± is the expanded uncertainty, k = 2: figures that lie within each other’s ± are not known to differ.',
} as const;

export const ownerWords = {
  about: (number: number, day: string): string => `Visit ${number} · ${day} · keep this page`,
  by: (name: string, licence: string | undefined): string => `${name}${licence === undefined ? '' : `, licence ${licence}`}`,
  doneTitle: 'What was done',
  done: {
    asFound: 'The burner was measured as it was found.',
    changed: {
      draft: 'the draft was set',
      nozzle: 'the nozzle was changed',
      pressure: 'the oil pressure was set',
      head: 'the burner head was set',
      electrodes: 'the electrodes were set',
      cleaning: 'the appliance was cleaned',
      sealing: 'air leaks were sealed',
      house: 'a fan or a door in the house was changed',
    },
    changes: (parts: readonly string[]): string => `${capital(joined(parts))}.`,
    air: (trials: number): string => `The air was set after trying ${trials === 1 ? 'one setting' : `${counted(trials)} settings`}.`,
    left: 'It was measured once more as it was left.',
    nothing: 'No work was recorded.',
    notFinished: 'The work is not finished: the burner was not measured as left.',
  },
  columns: { what: '', before: 'when we came', after: 'when we left', means: 'what it means' },
  rows: {
    smoke: 'Smoke number',
    co: 'Carbon monoxide in the flue, air-free',
    heat: 'Efficiency, % of the fuel’s heat',
    stack: 'Flue gas above room temperature',
  },
  means: {
    smoke: 'Soot in the appliance wastes heat. 0 is clean.',
    co: 'A poisonous gas that you cannot smell. Less is better.',
    heat: 'The part of the fuel’s heat that is not lost up the chimney.',
    same: 'The same within the uncertainty. No saving is claimed.',
    stack: 'Warmer flue gas takes more heat up the chimney.',
  },
  heatNote:
    'The efficiency is measured in the flue gas at steady running; ± is its uncertainty. What a year saves also depends on weather and use.',
  safe: {
    missed: (names: readonly string[]): string =>
      `${names.length === 1 ? 'One limit is' : `${capital(counted(names.length))} limits are`} not met: ${joined(names)}. Ask what will be done about it.`,
    allPassed: (count: number): string =>
      count === 1
        ? 'The one safety test that applies was made and passed.'
        : `All ${counted(count)} safety tests that apply were made and passed.`,
    no: 'Do not run the burner until this is put right.',
    repair: 'Something is to be repaired soon.',
    allMet: 'Every limit that was set is met.',
    leftOff: (owner: string): string => `The burner was left off and red-tagged. Told: ${owner}.`,
    open: (count: number): string => `Not every safety test was made: ${counted(count)} ${count === 1 ? 'is' : 'are'} still to do.`,
    none: 'The safety tests were not made on this visit.',
    roomCo: (ppm: string): string => `Carbon monoxide in the room: ${ppm} when last read.`,
    noRoomCo: 'Carbon monoxide in the room was not read.',
    training: 'This was an exercise on simulated or replayed data. It says nothing about a real burner.',
  },
  toDoTitle: 'What is still to do',
  nothingToDo: 'Nothing was noted.',
  told: (whom: string, how: string, time: string): string => `Told to ${whom}, ${how}, ${time}.`,
  callTitle: 'Call for service',
  alarmTitle: 'Carbon monoxide',
  call: 'Smoke from the chimney, soot around the burner or a smell of oil or exhaust: switch off and call.',
  alarm: [
    'Keep a carbon monoxide alarm in working order on every floor where people sleep. When it sounds, everybody leaves at once; call for help from outside.',
    'Headache, dizziness or nausea that goes away outdoors can be carbon monoxide. Leave the house and call for help.',
  ],
  switchTitle: 'If the burner stops',
  switch: [
    'Press the reset button once, not more. If it stops again, leave it off and call: oil may have collected, and lighting it is dangerous.',
    'The emergency switch turns the burner off. Know where it is, and keep the way to it free.',
  ],
  dueTitle: 'Next visit',
  noDue: 'No date was set. Once a year is common practice; the maker’s instructions and local rules come first.',
} as const;

/** Titles, labels and sentences of the technical record. */
export const recordWords = {
  job: 'Visit, people and appliance',
  setUp: 'Set-up sheet',
  trials: 'Trials',
  curve: 'Air curve',
  trend: 'Trend',
  figures: 'Figures of the readings',
  budget: 'Where the uncertainty of the efficiency comes from',
  contributions: (each: readonly string[]): string => `Standard uncertainty in points, and its share of the variance: ${each.join('; ')}.`,
  contribution: (name: string, points: string, share: string): string => `${name} ${points} (${share} %)`,
  card: 'Target card',
  stage: (name: string): string => `Stage ${name}`,
  safety: 'Safety run-through',
  instrument: 'Instrument and data',
  notes: 'Changes, notes and cautions',
  edits: 'Signature and corrections',

  labels: {
    visit: 'Visit',
    kind: 'Kind',
    begun: 'Started',
    closed: 'Closed',
    zone: 'Time zone',
    technician: 'Technician',
    apprentice: 'Apprentice',
    witness: 'Witness',
    occupant: 'Occupant',
    appliance: 'Appliance',
    applianceKind: 'Kind of appliance',
    maker: 'Maker and type, from the plate',
    serial: 'Serial number',
    year: 'Year',
    ratedInput: 'Rated input',
    ratedOutput: 'Rated output',
    burner: 'Burner, from the plate',
    place: 'Place',
    owner: 'Owner',
    contact: 'Contact',
    consent: 'Details saved with consent',
    pseudonym: 'Owner details',
    tank: 'Oil tank',
    flueGas: 'Flue gas',
    fuel: 'Fuel',
    co2Max: 'CO2max, dry',
    annualFuel: 'Fuel a year, as told',
    pressurised: 'Chamber under pressure',
    smokeRule: 'Smoke number by',
    nextDue: 'Next visit due',
    pattern: 'Nozzle pattern',
    ratedPressure: 'Nozzle flow is stamped at',
    gauge: 'Gauge used',
    flow: 'Nozzle flow at the pump pressure',
    massFlow: 'Fuel mass flow',
    inputHhv: 'Heat input, HHV',
    inputLhv: 'Heat input, LHV',
    instrument: 'Instrument',
    cells: 'Cells',
    filter: 'Filter changed',
    firmware: 'Firmware',
    benchTest: 'Last bench test',
    certificate: 'Certificate until',
    zeroed: 'Zeroed in fresh air',
    recipe: 'Line recipe',
    airTyped: 'Air temperature, typed',
    program: 'Program',
    flueCo: 'Limits of CO in the flue',
    signature: 'Signature',
    recordHash: 'Hash of the signed record (SHA-256)',
  },
  kinds: { service: 'service', training: 'training' },
  flueGases: { usual: 'usual', 'low-temperature': 'low temperature', condensing: 'condensing' },
  tanks: { indoor: 'indoors', outdoor: 'outdoors', buried: 'buried' },
  yes: 'yes',
  no: 'no',
  pseudonymised: 'removed; the machine’s history is saved',
  places: { outdoors: 'outdoors', indoors: 'indoors', unknown: 'place not known' },
  notZeroed: 'not entered',
  columns: {
    item: 'measured before firing',
    found: 'as found',
    left: 'as left',
    maker: 'maker’s figure',
    verdict: 'verdict',
    trial: 'trial',
    stage: 'stage',
    setting: 'setting',
    time: 'time',
    o2: 'O2 %',
    co2: 'CO2 %',
    co: 'CO ppm',
    coAirFree: 'CO air-free',
    stack: (unit: string): string => `stack ${unit}`,
    air: (unit: string): string => `air ${unit}`,
    smoke: 'smoke',
    overFire: (unit: string): string => `over fire ${unit}`,
    breech: (unit: string): string => `breech ${unit}`,
    reading: 'reading',
    figure: 'figure',
    basis: 'basis',
    unit: 'unit',
    quantity: 'quantity',
    limit: 'limit',
    source: 'where the limit came from',
    applies: 'applies to',
    test: 'test',
    result: 'result',
    seconds: 'time s',
    marked: 'marked s',
    note: 'note',
    what: 'what',
    stopped: 'stopped',
    again: 'burning again',
    between: 'between',
    opened: 'put in place',
    closed: 'removed',
    place: 'place',
    ppm: 'CO ppm',
    run: 'run',
    kept: 'source',
    lines: 'lines',
    notUnderstood: 'not understood',
    hash: 'SHA-256 of the run file',
    by: 'by',
    field: 'field',
    before: 'before',
    after: 'after',
    reason: 'reason',
  },
  wet: 'wet',
  uneven: 'uneven',
  oil: 'oil',
  mean: (mean: string): string => `mean ${mean}`,
  smokeNotTaken: 'not taken',
  marks: { asFound: 'as found', asLeft: 'as left', stale: 'stale', inferred: 'setting entered later' },
  readings: { full: 'full', gas: 'gas', unsettled: 'by hand, unsettled', none: 'none' },
  /** in the narrow column, and what it means below the table */
  readingByHand: 'by hand',
  byHandNote: 'By hand: taken before it was settled.',
  /** @param own of the fuel's analysis */
  co2MaxFrom: (co2Max: string, own: string | undefined): string =>
    own === undefined ? `${co2Max} %, from the fuel` : `${co2Max} %, set on this visit; this fuel’s own is ${own} %`,
  /** losses are by O2 and the fuel's analysis, whatever was set */
  co2MaxNote:
    'The CO2max that was set turns O2 into CO2 and back. Losses and efficiency are computed from O2 and the fuel’s analysis: where O2 was measured, it does not change them.',
  /** @param co2Max as `co2MaxFrom` says it; undefined where it is not known */
  trialsNote: (co2Max: string | undefined): string =>
    `Trials are in the order taken. O2 dry; CO2 dry, computed from O2${co2Max === undefined ? '' : ` with a CO2max of ${co2Max}`}; CO dry, as measured; air-free in ppm; draft against the room, suction with a minus.`,
  reserveChosen: (co2: string, o2: string): string => `Reserve chosen: ${co2} points of CO2, which are ${o2} points of O2 for this fuel.`,
  noTrend: 'The run files of this visit are not on this computer, so there is no trend.',
  trendOf: (number: number, total: number, from: string, to: string): string => `${total > 1 ? `Run ${number}, ` : ''}${from} to ${to}`,
  trendNote:
    'Shaded with a foot line: settled. Hatched: no data, or not used. Squares: readings; the solid one is as left. Lines through all strips: marks.',
  /** the file of formulas is a contributor's; a reader wants its source */
  method: (formula: string, source: string): string =>
    [capital(formula), verifiedSource(source)].filter((part) => part !== '').join('; ') + '.',
  budgetNote: (u: string, widths: { o2: string; stack: string; air: string; fuel: string; co: string }): string =>
    `Combined by root sum of squares (JCGM 100:2008); U, twice the combined standard uncertainty, is ${u} points. Half-widths put in: O2 ${widths.o2}, stack ${widths.stack}, air ${widths.air}, fuel ${widths.fuel} points (rectangular), CO ${widths.co}; and the spread of each reading.`,
  coWidth: (ppm: string, percent: string): string => `the larger of ${ppm} ppm and ${percent} %`,
  edition: (date: string, place: string | undefined): string => `Edition ${date}${place === undefined ? '' : `, ${place}`}.`,
  cardKinds: {
    legal: 'Legal rule',
    training: 'Training targets',
    guidance: 'Guidance',
    maker: 'Maker’s figures',
    own: 'Own limits',
  },
  noCard: 'This visit was judged without a target card.',
  limitsOnPageOne: 'The limits and their sources are on page 1.',
  appliesTo: (parts: readonly string[]): string => `Written for: ${parts.join('; ')}.`,
  safetyResults: { pass: 'pass', fail: 'fail', 'not-applicable': 'not applicable', open: 'not done' },
  inferred: 'inferred from the gas data',
  stops: 'Stops and starts, inferred from the gas data',
  stopsNote:
    'From O2 alone: it leaves the burning range, and comes back. The instrument is late by tens of seconds, and a probe taken out looks the same. These times judge nothing; a stopwatch comes first.',
  bypasses: 'Bypass register',
  noBypass: 'No bypass was made.',
  stillOpen: 'still in place',
  roomCo: 'CO in the room',
  noRoomCo: 'Not read.',
  timingNote: (half: string): string => `Times are taken by hand with a stopwatch; ±${half} s of each is the hand’s.`,
  startedFrom: {
    'valve-opens': 'from the oil valve opening',
    'burner-starts': 'from the burner’s start',
    'flame-lost': 'from the loss of flame',
  },
  restartedAfter: (seconds: string): string => `burner started again after ${seconds} s`,
  counted: (seconds: string): string => `${seconds} s of it counted by the control`,
  /** against the time marked on the control */
  timing: { 'too-close': 'too close to the marked time to call', 'no-mark': 'no marked time' },
  noInstrument: 'not named',
  noBench: 'none on file',
  trust: 'What limits the trust in these figures',
  trustNone: 'Nothing was noticed that limits the trust in these figures.',
  trustLines: {
    asLeftUnsettled: 'The as-left reading was taken by hand before everything had settled.',
    asFoundUnsettled: 'The as-found reading was taken by hand before everything had settled.',
    inferred: (trials: string): string => `The setting of trial ${trials} was entered later, after the shift was noticed.`,
    typed: 'Figures were typed from the display of an instrument without a port.',
    typedAir: 'The air temperature was typed, not measured.',
    gaps: (count: number, seconds: string): string =>
      `${count === 1 ? 'One stretch' : `${count} stretches`} without data, ${seconds} in all; nothing was filled in.`,
    excluded: (count: number): string => `${count === 1 ? 'One stretch' : `${count} stretches`} of fresh air or probe out, not used.`,
    rejected: (count: string): string => `${count} lines of the instrument were not understood and not used.`,
    certificateOut: (day: string): string => `The instrument’s certificate ran out on ${day}, before this visit.`,
    noBench: 'There is no bench test of this instrument on file.',
    zeroIndoors: 'The instrument was zeroed indoors: CO in the room then reads as zero.',
    zeroUnknown: 'Where the instrument was zeroed was not entered.',
    smokeOne: 'The as-left smoke number rests on one spot.',
    missingRuns: (count: number): string => `${count === 1 ? 'One run file is' : `${count} run files are`} not on this computer.`,
    changedRun: 'A run file is not the one that was signed: its hash differs.',
    signatureBroken: 'The record is not the one that was signed: its hash differs.',
    limitsRaised: (notice: string, alarm: string, reason: string): string =>
      `The limits of CO in the flue were raised to ${notice} (notice) and ${alarm} (alarm). Reason: ${reason}`,
    floorLowered: (floor: string, reason: string): string =>
      `The lowest O2 that is aimed at was set to ${floor}. Reason: ${reason === '' ? 'none given' : reason}`,
    stale: (trials: string): string => `Trial ${trials} no longer counts: something that moves the air was changed afterwards.`,
  },
  sources: { port: 'serial port', simulated: 'simulated burner', replay: 'replayed run', typed: 'typed from a display' },
  notHere: 'not on this computer',
  changed: 'Changed on this visit',
  notesTitle: 'Notes',
  cautions: 'Cautions shown and acknowledged',
  annex: 'Annex: every edit, every caution',
  noEdits: 'Nothing was changed after it was first saved.',
  annexNote: (edits: number, cautions: number): string =>
    `${edits === 1 ? 'One edit' : `${edits} edits`} and ${cautions === 1 ? 'one acknowledged caution' : `${cautions} acknowledged cautions`} are saved with the visit. They are in its JSON file, and are printed as an annex on request.`,
  editsNote: 'Every change made by a person, in order. What follows from the instrument’s lines is not an edit.',
  edit: (field: string, before: string, after: string, reason: string | undefined): string =>
    `${field}: ${before} → ${after}${reason === undefined || reason === '' ? '' : ` (${reason})`}`,
  corrections: 'Corrections after signing',
  correctionsNote: 'The pages before show what was signed. These corrections were added later.',
  absent: '–',
} as const;

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
  columns: ['figure', 'measured', 'card', 'verdict'],
  foot: 'Solid lines: as measured, or as the card wants them where nothing was measured. Brackets: where the card wants the part. Shapes of nozzle, head and tube are plain; only the dimensions count. Power off and proven dead, oil shut, burner cool. A drawing does not replace the gauge or the maker’s instructions.',
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

/** Letters that no font of the printing computer has. */
export const missingLetters = {
  scripts: {
    greek: 'Greek',
    cyrillic: 'Cyrillic',
    eastAsian: 'Chinese or Japanese',
    korean: 'Korean',
    arabic: 'Arabic',
    hebrew: 'Hebrew',
    thai: 'Thai',
    indic: 'Indic',
  },
  note: (names: readonly string[]): string =>
    `Empty boxes are ${names.length === 0 ? '' : `${joined(names)} `}letters: the printing computer has no font for them.`,
} as const;

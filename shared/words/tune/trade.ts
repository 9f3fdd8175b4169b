/** Kind of job, warm up and draft, what was changed, work done and defects. */
import type { CarriedPart } from '../../tuning/visit/carry-over.ts';
import type { ChangeKind } from '../../tuning/visit/staleness.ts';
import type { Job } from '../../tuning/visit/step-names.ts';
import type { DefectWeight, WorkKind, toldHow } from '../../tuning/visit/work-done.ts';

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

export const jobWords = {
  label: 'Kind of job',
  names: {
    service: 'Service',
    commissioning: 'Commissioning, or a new nozzle',
    check: 'Check only, nothing is changed',
    'call-back': 'Call-back',
  } satisfies Record<Job, string>,
  about: {
    service: 'As-found first, then power off, clean and set, then draft, then air.',
    commissioning: 'Electrodes, nozzle and head first. There is no flame to read as found.',
    check: 'Readings and safety tests. One reading is as found and as left.',
    'call-back': 'Today is compared with the last visit from the first screen on.',
  } satisfies Record<Job, string>,
  unsaid: 'not entered',
} as const;

export const carryWords = {
  parts: {
    fuel: 'fuel',
    'co2-max': 'CO2max',
    instrument: 'instrument',
    technician: 'technician',
    adjusters: 'adjusters',
    'makers-figures': 'maker’s figures',
    nozzle: 'nozzle',
    card: 'target card',
    control: 'times on the control',
    'not-applicable': 'which tests do not apply',
  } satisfies Record<CarriedPart, string>,
  button: (number: number): string => `Take over from visit ${number}`,
  done: (number: number, parts: readonly string[]): string =>
    `Taken over from visit ${number}: ${listed(parts)}. No measurement was taken over.`,
  offers: (parts: readonly string[]): string => `Copies ${listed(parts)}. Check each again. Measurements are not copied.`,
  unsigned: (number: number): string => `Visit ${number} is not signed: look at each plate and stamp yourself.`,
  notes: (number: number) => ({ nozzle: `from visit ${number}; look at the stamp`, lacks: `as at visit ${number}` }),
} as const;

export const warmUpWords = {
  title: 'Draft first, then the air',
  gauge: 'Gauge zeroed',
  gaugeAbout: 'Hose off, gauge level.',
  gaugeDone: 'The gauge reads zero',
  gaugeAt: (time: string): string => `zeroed ${time}`,
  columns: { row: 'in the order of work', found: 'as found', set: 'as set', slot: 'from the card' },
  overFire: 'Draft over the fire',
  breech: 'Draft at the breech',
  running: 'burner running, door shut',
  beforeRegulator: 'between boiler and regulator',
  setField: (name: string): string => `${name}, as set`,
  foundField: (name: string): string => `${name}, as found`,
  noLimit: 'no limit on the card',
  least: (text: string): string => `${text} or more`,
  regulator: 'Draft regulator',
  regulators: { '': 'not entered', 'set-and-free': 'set, swings free', 'left-as-found': 'left as found', none: 'none fitted' },
  lost: (value: string): string => `Lost through the boiler: ${value}.`,
  drop: (value: string, half: string): string => `At the last visit ${value} ${half}.`,
  first: 'Draft comes first: it moves O2.',
  sign: 'Type suction with a minus here.',
  smokeFirst: 'Take a smoke spot before the probe goes in. Above 2, or oil: the probe stays out.',
} as const;

export const changedWords = {
  title: 'Changed on this visit',
  none: 'Nothing yet.',
  ask: 'Changed something? Press what it was, then type the figure if there is one.',
  kinds: {
    nozzle: 'Nozzle',
    pressure: 'Oil pressure',
    head: 'Head',
    electrodes: 'Electrodes',
    cleaning: 'Cleaned',
    sealing: 'Sealed a leak',
    draft: 'Regulator',
    house: 'Fan or door',
  } satisfies Record<ChangeKind, string>,
  before: (what: string): string => `${what}, before`,
  after: (what: string): string => `${what}, after`,
  stale: (trials: readonly number[]): string =>
    trials.length === 0
      ? ''
      : trials.length === 1
        ? `Trial ${trials[0]} no longer counts for the air curve. It is still the as-found reading.`
        : `Trials ${listed(trials.map(String))} no longer count for the air curve. They stay in the record.`,
  remove: 'Remove entry',
} as const;

export const workWords = {
  title: 'Work done',
  about: 'Work done on this visit. The changes you entered are listed already.',
  addTitle: 'Add with one press',
  kinds: {
    nozzle: 'Nozzle changed',
    filter: 'Oil filter changed',
    strainer: 'Pump strainer cleaned',
    gasket: 'Gasket changed',
    passages: 'Flue passages brushed, vacuumed',
    electrodes: 'Electrodes set',
    regulator: 'Regulator freed and set',
    fan: 'Fan wheel cleaned',
    chamber: 'Chamber inspected',
    detector: 'Flame detector cleaned',
    part: 'Part changed',
    other: 'Other work',
  } satisfies Record<WorkKind, string>,
  noteHead: 'note',
  partHead: 'part number',
  note: (what: string): string => `${what}: note`,
  part: (what: string): string => `${what}: part number`,
  partLine: (number: string): string => `part ${number}`,
  tagLine: (tag: string): string => `tag ${tag}`,
  section: 'Job, draft before the air, work and defects',
  defects: 'Defects left',
  defect: 'Defect',
  addDefect: 'Add the defect',
  tag: 'Tag, if any',
  weight: 'How serious',
  weights: { advice: 'Advice', 'repair-soon': 'Repair soon', 'not-safe': 'Not safe' } satisfies Record<DefectWeight, string>,
  noDefects: 'None entered.',
  told: 'Owner told',
  whom: 'Whom',
  how: 'How',
  hows: { 'in-person': 'in person', 'by-phone': 'by phone', 'in-writing': 'in writing' } satisfies Record<(typeof toldHow)[number], string>,
  next: 'Next visit due',
  nextHint: 'like 2027-11-30',
  nextWrong: 'Type the day like 2027-11-30.',
  nextPast: 'Type a day after this visit.',
  label: 'Label at the appliance',
  open: 'Work done and defects',
  pages: 'Pages of the report',
} as const;

export const shiftCauses: readonly { kind: ChangeKind; text: string }[] = [
  { kind: 'draft', text: 'The draft changed' },
  { kind: 'house', text: 'A fan or a door' },
  { kind: 'pressure', text: 'The oil pressure' },
];

/** Page 1 of the report. Short, to one person, no more certainty than the figures carry. */
const small = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];
export const counted = (count: number): string => small[count] ?? String(count);
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const joined = (names: readonly string[]): string =>
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
  sourceInRecord: 'source: technical record',
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
    `At ${annual} a year: ${saved.join(' or ')}${co2 === undefined ? '' : `, ${co2} of CO2`}.`,
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
  foot: 'CO in the room: 9 ppm find the source, 35 ppm burner off, leave the room, 100 ppm everybody out and call for help from outside. Never relight with unburned oil in the chamber. Flueside advises; it is no safety device and no substitute for a calibrated instrument. Local code and the burner maker’s instructions come first.',
  page: 'page',
  of: 'of',
  run: (hash: string): string => `run ${hash}`,

  copyNote: (number: number): string => `Copy of visit ${number} as it came from another computer; the visit that was here differs.`,
  copySigned: (name: string, time: string, hash: string): string =>
    `There it is signed by ${name} at ${time}, record ${hash}; the signature does not cover this copy.`,
  ownerTitle: 'For the owner',
  recordTitle: 'Technical record',
} as const;

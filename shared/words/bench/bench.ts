/** Words of the Bench workspace. Sentences with figures are functions; figures come in as text. */
import { formatNumber, formatWithUnit } from '../../format/quantity.ts';
import { PA_PER_BAR } from '../../units/convert.ts';
import type { BenchChannel, GasFlaw } from '../../bench/instrument.ts';
import type { GasSlot, Purpose } from '../../bench/plan.ts';
import type { DecisionRule } from '../../measurement/decision-rule.ts';

const channelNames: Readonly<Record<BenchChannel, string>> = { o2: 'O2', co: 'CO', no: 'NO', no2: 'NO2', so2: 'SO2', co2: 'CO2' };
const slotNames: Readonly<Record<GasSlot, string>> = {
  air: 'fresh air',
  zero: 'zero gas',
  low: 'low gas',
  mid: 'middle gas',
  high: 'high gas',
  interferent: 'interfering gas',
};
const list = (parts: readonly string[]): string =>
  parts.length <= 1 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts[parts.length - 1]}`;

export const first = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export const bench = {
  title: 'Bench',
  /** for screen readers */
  regions: { tools: 'Title and views', work: 'What is on the screen', right: 'Beside it', bar: 'What to do next' },
  channels: channelNames,
  slots: slotNames,
  purposes: {
    'warm-up': 'warm-up',
    noise: 'noise',
    'fresh-air': 'fresh air',
    zero: 'zero',
    span: 'span',
    point: 'point',
    response: 'response',
    recovery: 'recovery',
    repeatability: 'repeatability',
    'cross-effect': 'cross-effect',
    drift: 'drift',
  } satisfies Record<Purpose, string> as Readonly<Record<Purpose, string>>,
  rules: {
    simple: 'Simple: pass while the error is inside the limit',
    'guarded-acceptance': 'Guarded: pass only when error and uncertainty together are inside',
    'guarded-rejection': 'Lenient: fail only when error and uncertainty together are outside',
  } satisfies Record<DecisionRule, string> as Readonly<Record<DecisionRule, string>>,
  /** beside a sentence that says the rest */
  ruleNames: {
    simple: 'Simple acceptance',
    'guarded-acceptance': 'Guarded acceptance',
    'guarded-rejection': 'Guarded rejection (lenient)',
  } satisfies Record<DecisionRule, string> as Readonly<Record<DecisionRule, string>>,
  ruleSentences: {
    simple: 'Decision rule: simple acceptance. The error alone is compared with the limit.',
    'guarded-acceptance':
      'Decision rule: guarded acceptance (JCGM 106). Pass when error and expanded uncertainty (k = 2) together lie inside the limit, fail when the error lies outside; between them it is too close to call.',
    'guarded-rejection':
      'Decision rule: guarded rejection. Fail only when the error less its expanded uncertainty (k = 2) lies outside the limit.',
  } satisfies Record<DecisionRule, string> as Readonly<Record<DecisionRule, string>>,
  unfair:
    'Use a better gas or guarded acceptance: in some rows the uncertainty is more than a third of the limit, so pass or fail is partly chance. Common practice asks for a third at most.',
  noRule: 'Choose a decision rule: it is agreed before the test, never afterwards.',
  noLimits: 'No limits: measure only',

  home: {
    about: 'Can this instrument be trusted? Test it against fresh air and bottled gas.',
    next: 'No test is under way. Start a new one.',
    goOn: (names: string, step: string): string => `Go on with ${names}: ${step}.`,
    start: 'New test',
    goOnButton: 'Go on',
    tests: 'Tests',
    noTests: 'No test yet.',
    instruments: 'Instruments',
    noInstruments: 'No instrument yet. Add the one on the bench, or practise with simulated ones.',
    gases: 'Reference gases',
    noGases: 'No bottle yet. Add one and type its values from the certificate.',
    plans: 'Plans',
    limits: 'Limits',
    add: 'Add',
    open: 'Open',
    edit: 'Edit',
    copy: 'Copy',
    remove: 'Remove',
    removeAsk: (name: string): string => `Remove ${name}? Tests that used it keep their own copy.`,
    example: 'example',
    stillOpen: 'not finished',
    done: 'done',
    unreadable: (count: number): string => `${count} could not be read and were left alone.`,
  },

  instrument: {
    title: 'Instrument',
    name: 'Name on the bench',
    serial: 'Serial number',
    firmware: 'Firmware',
    hose: 'Hose and probe',
    filterChanged: 'Filter changed on',
    certificateUntil: 'Certificate runs until',
    notes: 'Notes',
    cells: 'Cells',
    cell: 'Measures',
    cellSerial: 'Cell number',
    installed: 'Installed on',
    low: 'Range from',
    high: 'to',
    resolution: 'Display step',
    compensated: 'Hydrogen compensated',
    addCell: 'Add a cell',
    removeCell: 'Remove',
    dateHint: 'as 2026-11-24',
    age: (cell: string, months: number): string =>
      months < 1 ? `${cell} cell new` : months === 1 ? `${cell} cell 1 month` : `${cell} cell ${months} months`,
    noAge: (cell: string): string => `${cell} cell, age not known`,
    serialShown: (serial: string): string => `serial ${serial}`,
  },

  gas: {
    title: 'Reference gas',
    name: 'Name on the bottle',
    serial: 'Bottle number',
    certificate: 'Certificate',
    balance: 'Balance gas',
    balances: { nitrogen: 'nitrogen', air: 'air' },
    expires: 'Expires on',
    certified: 'Certified on',
    pressure: 'Pressure now',
    hydrogen: 'Hydrogen in it',
    components: 'Certified components',
    value: 'Certified value',
    expanded: 'Uncertainty, k = 2',
    add: 'Add a component',
    certifiedAbout: 'Type the certified value, never the nominal one.',
    flaws: {
      expired: 'expired',
      'nearly-empty': 'nearly empty: below 10 bar (145 psi)',
      'no-expiry': 'no expiry date',
      uncertain: 'uncertainty above 2 % of the value',
    } satisfies Record<GasFlaw, string> as Readonly<Record<GasFlaw, string>>,
    reason: 'Why it is used anyway',
    reasonNeeded: 'Type a reason of at least three letters, or take another bottle.',
    refused: (name: string, flaws: string): string => `${name}: ${flaws}.`,
    line: (name: string, value: string, expiry: string, pressure: string): string =>
      [`${name}: certified ${value}`, expiry === '' ? 'no expiry date' : `expires ${expiry}`, pressure]
        .filter((part) => part !== '')
        .join(', '),
    left: (bar: number): string => `${formatNumber(bar, 0)} bar (${formatWithUnit('pumpPressure', bar * PA_PER_BAR, 'us')}) left`,
  },

  plan: {
    title: 'Plan',
    name: 'Name of the plan',
    number: 'Number',
    order: 'Order',
    purpose: 'What for',
    gas: 'Gas',
    hold: 'Hold',
    readings: 'Readings',
    up: 'Up',
    down: 'Down',
    removeStep: 'Remove',
    addStep: 'Add a step',
    step: (number: number): string => `Step ${number}`,
    about: (steps: number, minutes: string): string => `${steps === 1 ? '1 step' : `${steps} steps`}, ${minutes}`,
    copyName: (name: string): string => `${name}, own`,
  },

  limits: {
    title: 'Limits',
    name: 'Name of the card',
    rule: 'Decision rule',
    channel: 'Channel',
    absolute: 'Error, at most ±',
    relative: 'or of value',
    repeatability: 'Scatter, part',
    linearity: 'Linearity, of span',
    stability: 'Drift, of span',
    cross: 'Cross-effect, part',
    t90: 'T90 at most',
    source: 'Where it comes from',
    sourceHint: 'A standard with its number, the maker, or own.',
    sourceNeeded: 'Type where the limit comes from.',
    addLine: 'Add a channel',
    own: 'own',
  },
  list,
} as const;

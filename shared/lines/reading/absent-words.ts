import type { AbsentReason, InstrumentState } from '../../measurement/sample.ts';

/** Words that instruments of every kind send in place of a value (common practice). Capital letters, no blanks. */
const words: Record<string, AbsentReason> = {
  OL: 'over-range',
  'O.L': 'over-range',
  'O.L.': 'over-range',
  '0L': 'over-range',
  OFL: 'over-range',
  OVER: 'over-range',
  OVR: 'over-range',
  OVERRANGE: 'over-range',
  'OVER-RANGE': 'over-range',
  OVFL: 'over-range',
  OVERFLOW: 'over-range',
  OR: 'over-range',
  HIGH: 'over-range',
  HI: 'over-range',
  HORS: 'over-range',
  HORSGAMME: 'over-range',
  MAX: 'over-range',
  SAT: 'over-range',
  INF: 'over-range',
  '+INF': 'over-range',
  INFINITY: 'over-range',
  OVERLOAD: 'over-range',
  OVLD: 'over-range',
  '>RANGE': 'over-range',
  '>MAX': 'over-range',
  OOR: 'over-range',
  'OOR+': 'over-range',
  UL: 'under-range',
  UFL: 'under-range',
  UNDER: 'under-range',
  UDR: 'under-range',
  UNDERRANGE: 'under-range',
  'UNDER-RANGE': 'under-range',
  UR: 'under-range',
  LOW: 'under-range',
  LO: 'under-range',
  MIN: 'under-range',
  '-INF': 'under-range',
  '-INFINITY': 'under-range',
  'OOR-': 'under-range',
  '-OL': 'under-range',
  ERR: 'error',
  ERROR: 'error',
  FAIL: 'error',
  FAILED: 'error',
  FAULT: 'error',
  FLT: 'error',
  FEHLER: 'error',
  ERRORE: 'error',
  ERREUR: 'error',
  FALLO: 'error',
  FOUT: 'error',
  BŁĄD: 'error',
  BLAD: 'error',
  BAD: 'error',
  OPEN: 'error',
  SHORT: 'error',
  BREAK: 'error',
  INVALID: 'error',
  INV: 'error',
  '?': 'error',
  '???': 'error',
  '????': 'error',
  NAN: 'not-a-number',
  'NAN(IND)': 'not-a-number',
  '1.#QNAN': 'not-a-number',
  '-1.#IND': 'not-a-number',
  '1.#INF': 'over-range',
  'N/A': 'not-fitted',
  NA: 'not-fitted',
  NONE: 'not-fitted',
  NC: 'not-fitted',
  'N.C.': 'not-fitted',
  NULL: 'not-fitted',
  NIL: 'not-fitted',
  OFF: 'not-fitted',
  'N.A.': 'not-fitted',
  NOPROBE: 'not-fitted',
  NOSENSOR: 'not-fitted',
  DISABLED: 'not-fitted',
  NOTFITTED: 'not-fitted',
  'K.A.': 'not-fitted',
  WARM: 'warming-up',
  WARMUP: 'warming-up',
  'WARM-UP': 'warming-up',
  WARMING: 'warming-up',
  WAIT: 'warming-up',
  BUSY: 'warming-up',
  NOTREADY: 'warming-up',
  NRDY: 'warming-up',
  INIT: 'warming-up',
  HEATING: 'warming-up',
  ZERO: 'not-measuring',
  ZEROING: 'not-measuring',
  PURGE: 'not-measuring',
  CAL: 'not-measuring',
  HOLD: 'not-measuring',
  STBY: 'not-measuring',
  STANDBY: 'not-measuring',
  IDLE: 'not-measuring',
};
const table = new Map(Object.entries(words));

/** What a text in a value's place says about the value; undefined when it says nothing known. */
export function absentReason(text: string): AbsentReason | undefined {
  const bare = text.toUpperCase().replace(/[\s_]+/g, '');
  if (bare === '') return 'blank';
  const known = table.get(bare);
  if (known !== undefined) return known;
  if (/^\++$/.test(bare)) return 'over-range';
  if (/^[-\u2012-\u2015\u2212]+([.,][-\u2012-\u2015\u2212]+)?$/.test(bare)) return 'not-measuring';
  if (/^\*+([.,]\*+)?$/.test(bare) || /^>+$/.test(bare) || /^\^+$/.test(bare)) return 'over-range';
  if (/^<+$/.test(bare)) return 'under-range';
  if (/^#+([.,]#+)?$/.test(bare)) return 'error';
  if (/^_+$/.test(text.trim()) || /^\.+$/.test(bare) || /^[xX]+$/.test(bare) || /^\/+$/.test(bare)) return 'blank';
  if (/^(ERR|ERROR|E|F)[-.:#]?\d{1,3}$/.test(bare)) return 'error';
  // a count-down
  if (/^(WAIT|WARM|WARM-?UP|WARMING|INIT|HEATING)[-.:#]?\d{1,4}S?$/.test(bare)) return 'warming-up';
  return undefined;
}

const stateWords: Record<string, InstrumentState> = {
  OK: 'measuring',
  MEAS: 'measuring',
  MEASURE: 'measuring',
  MEASURING: 'measuring',
  RUN: 'measuring',
  RUNNING: 'measuring',
  READY: 'measuring',
  NORMAL: 'measuring',
  GOOD: 'measuring',
  VALID: 'measuring',
  ON: 'measuring',
  SAMPLE: 'measuring',
  SAMPLING: 'measuring',
  M: 'measuring',
  WARM: 'warming-up',
  WARMUP: 'warming-up',
  'WARM-UP': 'warming-up',
  WARMING: 'warming-up',
  INIT: 'warming-up',
  HEATING: 'warming-up',
  STARTUP: 'warming-up',
  WAIT: 'warming-up',
  PURGE: 'purge',
  PURGING: 'purge',
  FLUSH: 'purge',
  AIR: 'purge',
  ZERO: 'zeroing',
  ZEROING: 'zeroing',
  CAL: 'zeroing',
  CALIBRATING: 'zeroing',
  SPAN: 'zeroing',
  AUTOZERO: 'zeroing',
  HOLD: 'hold',
  STBY: 'hold',
  STANDBY: 'hold',
  IDLE: 'hold',
  PAUSE: 'hold',
  FREEZE: 'hold',
  FAULT: 'fault',
  FAIL: 'fault',
  FLOW: 'fault',
  LOWFLOW: 'fault',
  ERR: 'fault',
  ERROR: 'fault',
  ALARM: 'fault',
  BAD: 'fault',
  BLOCKED: 'fault',
  CONDENSATE: 'fault',
};
const stateTable = new Map(Object.entries(stateWords));

const warming =
  /^(?:NOT(?:YET)?READY|WARM(?:ING)?[-.:]?UP|PRE-?HEAT(?:ING)?|AUFHEIZEN|AUFHEIZUNG|VORWARMEN|AUFWARMEN|CHAUFFE|PRECHAUFFAGE|CALENTANDO|CALENTAMIENTO|(?:PRE)?RISCALDAMENTO|OPWARMEN|BOOT(?:ING)?|STARTING(?:UP)?)(?:[-.:]?\d{1,4}S?)?$/;
const faulty =
  /^(?:(?:SENSOR|PROBE|CELL|O2|CO)?(?:ERR|ERROR|FAULT|FAIL|FAILURE|FAILED|FEHLER|DEFAUT|ERREUR|ERRORE|STORUNG)|INVALID|UNGULTIG|NOTVALID|NOTOK|NOK|NODATA|NOSENSOR|TIMEOUT|UNPLUGGED|DISCONNECTED|OUTOFRANGE|STALE)(?:[-.:#]?(?!0+$)\d{1,4})?$/;

/** What a status word says that the instrument is doing; LOBAT and the like say nothing about that. */
export function instrumentState(text: string): InstrumentState | undefined {
  const bare = text
    .toUpperCase()
    .normalize('NFD')
    .replace(/[\s_\p{M}]+/gu, '');
  return stateTable.get(bare) ?? (warming.test(bare) ? 'warming-up' : faulty.test(bare) ? 'fault' : undefined);
}

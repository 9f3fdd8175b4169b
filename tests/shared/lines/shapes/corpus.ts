/**
 * Sample streams for the learner: an invented burner, written down in forty dialects. Dialects are plain formatting rules; nothing
 * here uses the reader's code. Truth is what was formatted, rounded as it was sent, in the app's inner units.
 */
import type { StampedLine } from '../../../../shared/measurement/line.ts';

export type Row = { t: number; o2: number; co: number; stack: number; air: number; co2: number; no: number; draft: number };
export type Truth = { o2?: number; co?: number; stackTemperature?: number; airTemperature?: number };
export type Dialect = {
  readonly name: string;
  /** lines before the first reading */
  readonly head?: readonly string[];
  /** the lines of one reading, each without its end */
  readonly lines: (row: Row, index: number) => readonly string[];
  readonly end?: string;
  readonly truth: (row: Row) => Truth;
  readonly scenario?: Scenario;
  /** the values come without anything between them: a changed decimal mark or column count has no meaning here */
  readonly isRigid?: boolean;
};
type Scenario = { o2?: number; co?: number; stack?: number; air?: number; cold?: boolean; freshSeconds?: number };

/** Small seeded generator (mulberry32), so that the streams are the same on every machine. */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const normal = (random: () => number): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** One reading a second: a burner that warms up or runs steadily, and whose air is changed half way. */
export function burnerRows(
  count: number,
  seed: number,
  { o2 = 5.2, co = 34, stack = 212, air = 21.4, cold = true, freshSeconds = 0 }: Scenario = {},
): Row[] {
  const random = seeded(seed);
  const rows: Row[] = [];
  let wander = 0;
  for (let t = 0; t < count; t++) {
    wander = 0.95 * wander + 0.02 * normal(random);
    const fresh = t < freshSeconds ? 1 : Math.exp(-(t - freshSeconds) / 6) * (freshSeconds > 0 ? 1 : 0);
    const changed = t > count * 0.55 ? 1 - Math.exp(-(t - count * 0.55) / 8) : 0;
    const flame = o2 + wander + 0.04 * normal(random) + 1.3 * changed;
    const oxygen = fresh * 20.9 + (1 - fresh) * flame;
    const rise = cold ? 1 - Math.exp(-(t + 25) / 90) : 1;
    rows.push({
      t,
      o2: oxygen,
      co: Math.max(0, (1 - fresh) * (co * (1 + 1.5 * Math.exp(-t / 20)) * (1 - 0.3 * changed) + Math.max(1, co * 0.05) * normal(random))),
      stack: air + (stack - air) * rise + 0.3 * normal(random) - 4 * changed,
      air: air + 0.3 * (t / 300) + 0.05 * normal(random),
      co2: 15.4 * (1 - oxygen / 20.946),
      no: (1 - fresh) * (72 - 4 * changed + normal(random)),
      draft: -4.5 - 6 * rise + 0.4 * normal(random),
    });
  }
  return rows;
}

const f = (value: number, digits: number): string => value.toFixed(digits);
const comma = (text: string): string => text.replaceAll('.', ',');
const clock = (t: number, start = 12 * 3600 + 67): string => {
  const s = (start + t) % 86_400;
  return [Math.floor(s / 3600), Math.floor(s / 60) % 60, s % 60].map((part) => String(part).padStart(2, '0')).join(':');
};
const fahrenheit = (c: number): number => c * 1.8 + 32;
const sent = (value: number, digits: number): number => Number(value.toFixed(digits));
const usual = (row: Row): Truth => ({
  o2: sent(row.o2, 1),
  co: sent(row.co, 0),
  stackTemperature: sent(row.stack, 1),
  airTemperature: sent(row.air, 1),
});
const inFahrenheit =
  (digits: number) =>
  (row: Row): Truth => ({
    ...usual(row),
    stackTemperature: (sent(fahrenheit(row.stack), digits) - 32) / 1.8,
    airTemperature: (sent(fahrenheit(row.air), digits) - 32) / 1.8,
  });
const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');
const codes = (text: string): number[] => [...text].map((char) => char.charCodeAt(0));
/** NMEA 0183: exclusive or of everything between $ and *. */
const nmea = (body: string): string =>
  `$${body}*${hex(
    codes(body).reduce((sum, code) => sum ^ code, 0),
    2,
  )}`;
const sum256 = (text: string): number => codes(text).reduce((sum, code) => sum + code, 0) % 256;
function crc16(bytes: readonly number[], polynomial: number, start: number, isReflected: boolean): number {
  let crc = start;
  for (const byte of bytes) {
    crc ^= isReflected ? byte : byte << 8;
    for (let bit = 0; bit < 8; bit++) {
      if (isReflected) crc = crc % 2 === 1 ? Math.floor(crc / 2) ^ polynomial : Math.floor(crc / 2);
      else crc = crc >= 0x8000 ? ((crc * 2) ^ polynomial) & 0xffff : (crc * 2) & 0xffff;
    }
  }
  return crc;
}
/** Modbus ASCII: address, function, byte count, registers, LRC. */
const modbusAscii = (registers: readonly number[]): string => {
  const bytes = [1, 3, registers.length * 2, ...registers.flatMap((word) => [(word >> 8) & 255, word & 255])];
  const lrc = (256 - (bytes.reduce((sum, byte) => sum + byte, 0) % 256)) % 256;
  return `:${[...bytes, lrc].map((byte) => hex(byte, 2)).join('')}`;
};
const u16 = (value: number): number => Math.round(value) & 0xffff;
const padded = (value: number, width: number, digits: number): string => f(value, digits).padStart(width, ' ');
const zeroed = (value: number, width: number): string => String(Math.round(value)).padStart(width, '0');

export const dialects: readonly Dialect[] = [
  // 8.2 no. 1: CSV with a header
  {
    name: 'csv, header with units',
    head: ['time,O2 %,CO ppm,T1 C,T2 C'],
    lines: (r) => [`${clock(r.t)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`],
    truth: usual,
  },
  {
    name: 'csv, seconds first, no header',
    lines: (r) => [`${r.t},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`],
    truth: usual,
  },
  { name: 'csv, four bare columns', lines: (r) => [`${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`], truth: usual },
  {
    name: 'csv, bare, temperatures first',
    lines: (r) => [`${f(r.stack, 1)},${f(r.air, 1)},${f(r.o2, 2)},${f(r.co, 0)}`],
    truth: (r) => ({ ...usual(r), o2: sent(r.o2, 2) }),
  },
  {
    name: 'csv, bare, air co stack o2, starts in fresh air',
    lines: (r) => [`${f(r.air, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.o2, 1)}`],
    truth: usual,
    scenario: { freshSeconds: 20 },
  },
  {
    name: 'csv, quoted with header',
    head: ['"Time","O2 (%)","CO (ppm)","Stack (°C)","Ambient (°C)","Status"'],
    lines: (r) => [`"${clock(r.t)}","${f(r.o2, 1)}","${f(r.co, 0)}","${f(r.stack, 1)}","${f(r.air, 1)}","OK"`],
    truth: usual,
  },
  {
    name: 'csv, own computations beside',
    head: ['Time,CO2,O2,CO,Eff,Tstack,Tair,Tnet,Lambda'],
    lines: (r) => [
      `${clock(r.t)},${f(r.co2, 1)},${f(r.o2, 1)},${f(r.co, 0)},${f(92 - (r.stack - r.air) * 0.035, 1)},${f(r.stack, 1)},${f(r.air, 1)},${f(r.stack - r.air, 1)},${f(20.946 / (20.946 - r.o2), 2)}`,
    ],
    truth: usual,
    scenario: { cold: false },
  },
  {
    name: 'csv, bare with computed CO2',
    lines: (r) => [`${r.t},${f(r.co2, 1)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 0)},${f(r.air, 0)}`],
    truth: (r) => ({ ...usual(r), stackTemperature: sent(r.stack, 0), airTemperature: sent(r.air, 0) }),
  },
  // no. 2: decimal comma and semicolon
  {
    name: 'semicolon, decimal comma, German header',
    head: ['Zeit;O2 [%];CO [ppm];Abgastemperatur [°C];Verbrennungsluft [°C];Zug [hPa]'],
    lines: (r) => [comma(`${clock(r.t)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(r.draft / 100, 2)}`)],
    truth: usual,
  },
  {
    name: 'semicolon, decimal comma, bare',
    lines: (r) => [comma(`${clock(r.t)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`)],
    truth: usual,
  },
  {
    name: 'semicolon, row of units',
    head: ['Time;O2;CO;T gas;T air;Draft', 's;%;ppm;°C;°C;Pa'],
    lines: (r) => [`${r.t};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(r.draft, 1)}`],
    truth: usual,
  },
  {
    name: 'tab, date and time',
    head: ['Date\tTime\tO2\tCO\tFlue\tAmbient'],
    lines: (r) => [`25.11.2026\t${clock(r.t)}\t${f(r.o2, 1)}\t${f(r.co, 0)}\t${f(r.stack, 1)}\t${f(r.air, 1)}`],
    truth: usual,
  },
  {
    name: 'bars with padding',
    lines: (r) => [`| ${clock(r.t)} | ${padded(r.o2, 5, 1)} | ${padded(r.co, 5, 0)} | ${padded(r.stack, 6, 1)} | ${padded(r.air, 5, 1)} |`],
    truth: usual,
  },
  // no. 3: blanks, signs, padding
  {
    name: 'blanks, signs and leading zeros',
    lines: (r) => [
      `  ${f(r.o2, 1)}   ${zeroed(r.co, 4)}  ${r.stack < 0 ? '' : '+'}${f(r.stack, 1)}  +${f(r.air, 1)}  ${f(r.draft / 100, 2)}`,
    ],
    truth: usual,
  },
  {
    name: 'blanks, ISO time',
    lines: (r) => [`2026-11-25T${clock(r.t)}Z ${f(r.o2, 2)} ${f(r.co, 0)} ${f(r.stack, 1)} ${f(r.air, 1)}`],
    truth: (r) => ({ ...usual(r), o2: sent(r.o2, 2) }),
  },
  {
    name: 'blanks, unit behind every value',
    lines: (r) => [`${f(r.o2, 1)} %  ${f(r.co, 0)} ppm  ${f(r.stack, 1)} C  ${f(r.air, 1)} C`],
    truth: usual,
  },
  {
    name: 'blanks, Fahrenheit, twelve-hour clock',
    lines: (r) => [
      `${clock(r.t, 67).replace(/^00/, '12')} PM  ${f(r.o2, 1)}  ${f(r.co, 0)}  ${f(fahrenheit(r.stack), 0)}  ${f(fahrenheit(r.air), 0)}`,
    ],
    truth: inFahrenheit(0),
  },
  // no. 4: key=value
  {
    name: 'key=value, units glued',
    lines: (r) => [`O2=${f(r.o2, 1)}% CO=${f(r.co, 0)}ppm TS=${f(r.stack, 1)}C TA=${f(r.air, 1)}C ST=OK`],
    truth: usual,
  },
  {
    name: 'key=value between commas',
    lines: (r, i) => [`seq=${i},o2=${f(r.o2, 2)},co=${f(r.co, 0)},flue_c=${f(r.stack, 1)},amb_c=${f(r.air, 1)}`],
    truth: (r) => ({ ...usual(r), o2: sent(r.o2, 2) }),
  },
  {
    name: 'key: value, Fahrenheit',
    lines: (r) => [`O2: ${f(r.o2, 1)} %; CO: ${f(r.co, 0)} ppm; Stack: ${f(fahrenheit(r.stack), 1)} F; Air: ${f(fahrenheit(r.air), 1)} F`],
    truth: inFahrenheit(1),
  },
  { name: 'key blank value', lines: (r) => [`O2 ${f(r.o2, 1)} CO ${f(r.co, 0)} T1 ${f(r.stack, 1)} T2 ${f(r.air, 1)}`], truth: usual },
  {
    name: 'tag and value columns',
    lines: (r) => [`O2,${f(r.o2, 1)},CO,${f(r.co, 0)},TG,${f(r.stack, 1)},TA,${f(r.air, 1)}`],
    truth: usual,
  },
  // no. 5: JSON lines
  { name: 'json, flat', lines: (r) => [`{"o2":${f(r.o2, 1)},"co":${f(r.co, 0)},"t":${f(r.stack, 1)},"ta":${f(r.air, 1)}}`], truth: usual },
  {
    name: 'json, nested, texts and lists',
    lines: (r) => [
      `{"ts":${1_764_000_000_000 + r.t * 1000},"gas":{"o2":"${f(r.o2, 1)}","co":"${f(r.co, 0)}","co2":"${f(r.co2, 1)}"},"temps":[${f(r.stack, 1)},${f(r.air, 1)}]}`,
    ],
    truth: usual,
  },
  {
    name: 'json, values with units',
    lines: (r) => [
      JSON.stringify({
        n: r.t,
        o2: { value: sent(r.o2, 1), unit: '%' },
        co: { value: sent(r.co, 0), unit: 'ppm' },
        stack: { value: sent(fahrenheit(r.stack), 1), unit: 'F' },
        room: { value: sent(fahrenheit(r.air), 1), unit: 'F' },
      }),
    ],
    truth: inFahrenheit(1),
  },
  // no. 6: one value per line
  {
    name: 'tags, one value per line',
    lines: (r) => [`A ${f(r.o2, 1).padStart(4, '0')}`, `B ${zeroed(r.co, 4)}`, `C ${f(r.stack, 1)}`, `D ${f(r.air, 1)}`],
    truth: usual,
  },
  {
    name: 'keys, one value per line',
    lines: (r) => [`O2: ${f(r.o2, 1)} %`, `CO: ${f(r.co, 0)} ppm`, `T stack: ${f(r.stack, 1)} C`, `T air: ${f(r.air, 1)} C`],
    truth: usual,
  },
  // no. 7: fixed width
  {
    name: 'fixed width, digits only',
    lines: (r) => [`${zeroed(r.o2 * 100, 4)}${zeroed(r.co, 4)}${zeroed(r.stack * 10, 5)}${zeroed(r.air * 10, 4)} 0`],
    truth: (r) => ({
      o2: Math.round(r.o2 * 100) / 100,
      co: Math.round(r.co),
      stackTemperature: Math.round(r.stack * 10) / 10,
      airTemperature: Math.round(r.air * 10) / 10,
    }),
    isRigid: true,
  },
  {
    name: 'fixed width, decimals touch',
    lines: (r) => [`${f(r.o2, 1).padStart(4, '0')}${zeroed(r.co, 5)}${f(r.stack, 1).padStart(5, '0')}${f(r.air, 1).padStart(5, '0')}`],
    truth: usual,
    isRigid: true,
  },
  // no. 8 and 9: print report, printer commands
  {
    name: 'print report',
    lines: (r) => [
      'FLUE GAS REPORT',
      `25/11/2026  ${clock(r.t)}`,
      '--------------------',
      `O2         ${f(r.o2, 1)} %`,
      `CO         ${f(r.co, 0)} ppm`,
      `Flue temp  ${f(r.stack, 1)} \u00b0C`,
      `Air temp   ${f(r.air, 1)} \u00b0C`,
      `CO2        ${f(r.co2, 1)} %`,
      '--------------------',
      '',
    ],
    truth: usual,
  },
  {
    name: 'printer commands between lines',
    lines: (r) => [
      `\u001b@\u001b!\u0001O2=${f(r.o2, 1)} % CO=${f(r.co, 0)} ppm`.replace(
        / CO.*/,
        ` CO=${f(r.co, 0)} ppm TF=${f(r.stack, 1)} \u00f8C TA=${f(r.air, 1)} \u00f8C`,
      ) + '\u001bd\u0002',
    ],
    truth: usual,
  },
  // no. 10 to 12: checks
  {
    name: 'NMEA 0183 style',
    lines: (r) => [nmea(`XXGAS,${clock(r.t).replaceAll(':', '')}.00,${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`)],
    truth: usual,
  },
  {
    name: 'Modbus ASCII registers',
    lines: (r) => [modbusAscii([u16(r.o2 * 10), u16(r.co), u16(r.stack * 10), u16(r.air * 10)])],
    truth: usual,
    isRigid: true,
  },
  {
    name: 'sum modulo 256 behind a comma',
    lines: (r) => {
      const body = `${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`;
      return [`${body},${hex(sum256(body), 2)}`];
    },
    truth: usual,
    isRigid: true,
  },
  {
    name: 'STX, ETX and exclusive or',
    lines: (r) => {
      const body = `${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}\u0003`;
      return [
        `\u0002${body}${hex(
          codes(body).reduce((sum, code) => sum ^ code, 0),
          2,
        )}`,
      ];
    },
    truth: usual,
    isRigid: true,
  },
  {
    name: 'CRC-16 at the end',
    lines: (r) => {
      const body = `${r.t * 1000} ${f(r.o2, 2)} ${f(r.co, 0)} ${f(r.stack, 1)} ${f(r.air, 1)}`;
      return [`${body} ${hex(crc16(codes(body), 0xa001, 0xffff, true), 4)}`];
    },
    truth: (r) => ({ ...usual(r), o2: sent(r.o2, 2) }),
    isRigid: true,
  },
  // no. 13 and 14: query and response, echoing prompts
  {
    name: 'exponents between semicolons',
    lines: (r) => [
      `${r.o2.toExponential(2).toUpperCase()};${r.co.toExponential(2).toUpperCase()};${r.stack.toExponential(3).toUpperCase()};${r.air.toExponential(2).toUpperCase()}`,
    ],
    truth: (r) => ({
      o2: Number(r.o2.toExponential(2)),
      co: Number(r.co.toExponential(2)),
      stackTemperature: Number(r.stack.toExponential(3)),
      airTemperature: Number(r.air.toExponential(2)),
    }),
  },
  {
    name: 'echoed query, then the answer',
    lines: (r) => ['>READ:ALL?', `${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`],
    truth: (r) => ({ ...usual(r), o2: sent(r.o2, 2) }),
  },
  // 8.3: other units
  {
    name: 'kelvin and a gas cell of NO',
    head: ['t_s,o2_pct,co_ppm,no_ppm,flue_K,inlet_K'],
    lines: (r) => [`${r.t},${f(r.o2, 1)},${f(r.co, 0)},${f(r.no, 0)},${f(r.stack + 273.15, 1)},${f(r.air + 273.15, 1)}`],
    truth: (r) => ({
      o2: sent(r.o2, 1),
      co: sent(r.co, 0),
      stackTemperature: sent(r.stack + 273.15, 1) - 273.15,
      airTemperature: sent(r.air + 273.15, 1) - 273.15,
    }),
  },
  {
    name: 'CO in mg/m3',
    head: ['Time;O2 %;CO mg/m3;Flue C;Air C'],
    lines: (r) => [`${clock(r.t)};${f(r.o2, 1)};${f(r.co * 1.25, 0)};${f(r.stack, 1)};${f(r.air, 1)}`],
    truth: (r) => ({ ...usual(r), co: sent(r.co * 1.25, 0) / (28.01 / 22.41397) }),
  },
];

export type Disturbance =
  'none' | 'cut first line' | 'missing fields' | 'noise bytes' | 'mixed line ends' | 'decimal comma' | 'changing column count';
export const disturbances: readonly Disturbance[] = [
  'none',
  'cut first line',
  'missing fields',
  'noise bytes',
  'mixed line ends',
  'decimal comma',
  'changing column count',
];

export type Stream = {
  readonly bytes: Uint8Array;
  readonly lines: StampedLine[];
  readonly rows: readonly Row[];
  readonly spoiled: ReadonlySet<number>;
};

const delimiterOf = (line: string): string | undefined => [';', '\t', '|', ','].find((mark) => line.split(mark).length > 3);

/** One field of the line is left empty, or its value is replaced by bars; the shape stays. */
function dropField(line: string, random: () => number): string | undefined {
  const mark = delimiterOf(line);
  if (mark !== undefined && !line.startsWith('{')) {
    const cells = line.split(mark);
    const at = 1 + Math.floor(random() * (cells.length - 1));
    if (/[A-Za-z=:*]/.test(cells[at] ?? '')) return undefined;
    cells[at] = '';
    return cells.join(mark);
  }
  return undefined;
}

function disturb(
  lines: readonly string[],
  kind: Disturbance,
  random: () => number,
  index: number,
  count: number,
  dialect: Dialect,
): { lines: string[]; isSpoiled: boolean } {
  const copy = [...lines];
  switch (kind) {
    case 'none':
    case 'mixed line ends':
      return { lines: copy, isSpoiled: false };
    case 'cut first line':
      if (index === 0 && copy[0] !== undefined) copy[0] = copy[0].slice(1 + Math.floor(copy[0].length * 0.4));
      return { lines: copy, isSpoiled: index === 0 };
    case 'missing fields': {
      if (random() > 0.12) return { lines: copy, isSpoiled: false };
      const at = Math.floor(random() * copy.length);
      const dropped = dropField(copy[at] ?? '', random);
      if (dropped === undefined) copy.splice(at, 1);
      else copy[at] = dropped;
      return { lines: copy, isSpoiled: true };
    }
    case 'noise bytes': {
      if (random() > 0.1) return { lines: copy, isSpoiled: false };
      const at = Math.floor(random() * copy.length);
      const text = copy[at] ?? '';
      const place = Math.floor(random() * (text.length + 1));
      const noise = Array.from({ length: 1 + Math.floor(random() * 4) }, () =>
        String.fromCharCode([0, 1, 7, 0x1f, 0x7f, 0x80, 0x99, 0xff, 0xfe][Math.floor(random() * 9)] ?? 0),
      ).join('');
      copy[at] = text.slice(0, place) + noise + text.slice(place);
      return { lines: copy, isSpoiled: true };
    }
    case 'decimal comma': {
      if (dialect.isRigid === true || copy.some((line) => line.startsWith('{') || line.startsWith('$')))
        return { lines: copy, isSpoiled: false };
      const isComma = copy.some((line) => line.split(',').length > 2 && !line.includes(';'));
      return { lines: copy.map((line) => (isComma ? line.replaceAll(',', ';') : line).replace(/(\d)\.(\d)/g, '$1,$2')), isSpoiled: false };
    }
    case 'changing column count': {
      if (dialect.isRigid === true || index < count / 2) return { lines: copy, isSpoiled: false };
      return {
        lines: copy.map((line, at) => {
          const mark = delimiterOf(line);
          if (line.startsWith('{')) return `${line.slice(0, -1)},"extra":${7 + at}}`;
          if (line.startsWith('$') || at > 0 || line.startsWith('>')) return line;
          if (line.includes('=')) return `${line}${mark ?? ' '}XX=7.1`;
          return mark === undefined ? line : `${line}${line.endsWith(mark) ? '' : mark}7.1${line.endsWith(mark) ? mark : ''}`;
        }),
        isSpoiled: false,
      };
    }
  }
}

/** The bytes of a dialect, with one disturbance; every line stamped with the second of its row. */
export function makeStream(dialect: Dialect, kind: Disturbance, seed: number, count = 90): Stream {
  const random = seeded(seed * 7919 + disturbances.indexOf(kind));
  const rows = burnerRows(count, seed, dialect.scenario);
  const lines: StampedLine[] = [];
  const spoiled = new Set<number>();
  let text = '';
  const push = (timeMs: number, line: string, at: number): void => {
    const ends = ['\r\n', '\n', '\r', '\r\n\r\n', '\n\r'];
    text += line + (kind === 'mixed line ends' ? (ends[at % ends.length] ?? '\n') : (dialect.end ?? '\r\n'));
    if (line !== '') lines.push({ timeMs, bytes: line });
  };
  let at = 0;
  const heads =
    kind === 'cut first line' && dialect.head !== undefined
      ? [dialect.head[0]?.slice(3) ?? '', ...dialect.head.slice(1)]
      : (dialect.head ?? []);
  for (const line of heads)
    push(0, kind === 'decimal comma' && line.includes(',') && !line.includes(';') ? line.replaceAll(',', ';') : line, at++);
  for (const [index, row] of rows.entries()) {
    const isHeadCut = kind === 'cut first line' && dialect.head !== undefined;
    const { lines: disturbed, isSpoiled } = isHeadCut
      ? { lines: [...dialect.lines(row, index)], isSpoiled: false }
      : disturb(dialect.lines(row, index), kind, random, index, count, dialect);
    if (isSpoiled) spoiled.add(index);
    for (const line of disturbed) push(index * 1000, line, at++);
  }
  return { bytes: Uint8Array.from(text, (char) => char.charCodeAt(0) & 255), lines, rows, spoiled };
}

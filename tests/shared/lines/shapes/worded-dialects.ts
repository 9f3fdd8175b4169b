/** Instruments that send names, objects, fixed places, checks, or other units. */
import { type Dialect, f, clock, fahrenheit, sent, usual, inFahrenheit, zeroed } from './dialect.ts';

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

export const wordedDialects: Dialect[] = [
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

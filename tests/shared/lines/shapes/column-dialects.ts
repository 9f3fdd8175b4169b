/** Instruments that send columns. */
import { type Dialect, f, clock, fahrenheit, sent, usual, inFahrenheit, zeroed } from './dialect.ts';

const comma = (text: string): string => text.replaceAll('.', ',');
const padded = (value: number, width: number, digits: number): string => f(value, digits).padStart(width, ' ');

export const columnDialects: Dialect[] = [
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
];

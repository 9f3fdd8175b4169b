/**
 * More dialects, written as if the learner were not known: markup, values before their names, cycles without names, checks that
 * nobody verifies, odd line ends. Truth is what was formatted, in the app's inner units.
 */
import type { Dialect, Row, Truth } from './dialect.ts';

const f = (value: number, digits: number): string => value.toFixed(digits);
const comma = (text: string): string => text.replaceAll('.', ',');
const fahrenheit = (celsius: number): number => celsius * 1.8 + 32;
const two = (value: number): string => String(value).padStart(2, '0');
const clock = (t: number): string => `14:${two(Math.floor(t / 60))}:${two(t % 60)}`;
const zeroed = (value: number, width: number): string => String(Math.round(value)).padStart(width, '0');
const codes = (text: string): number[] => [...text].map((char) => char.charCodeAt(0));
const hex = (value: number, width: number): string => value.toString(16).toUpperCase().padStart(width, '0');
const four = (r: Row): string[] => [f(r.o2, 1), f(r.co, 0), f(r.stack, 1), f(r.air, 1)];
const usual = (r: Row): Truth => ({
  o2: Number(f(r.o2, 1)),
  co: Number(f(r.co, 0)),
  stackTemperature: Number(f(r.stack, 1)),
  airTemperature: Number(f(r.air, 1)),
});
const inF = (r: Row): Truth => ({
  ...usual(r),
  stackTemperature: (Number(f(fahrenheit(r.stack), 0)) - 32) / 1.8,
  airTemperature: (Number(f(fahrenheit(r.air), 0)) - 32) / 1.8,
});
const fourF = (r: Row): string[] => [f(r.o2, 1), f(r.co, 0), f(fahrenheit(r.stack), 0), f(fahrenheit(r.air), 0)];
/** Two running sums modulo 255, RFC 1146. */
const fletcher = (text: string): string => {
  let low = 0;
  let high = 0;
  for (const code of codes(text)) {
    low = (low + code) % 255;
    high = (high + low) % 255;
  }
  return hex(high, 2) + hex(low, 2);
};
/** A check that the app does not know (Adler-32): the lines are read all the same. */
const adler = (text: string): string => {
  let low = 1;
  let high = 0;
  for (const code of codes(text)) {
    low = (low + code) % 65_521;
    high = (high + low) % 65_521;
  }
  return hex(high * 65_536 + low, 8);
};
const thousands = (value: number): string => {
  const text = f(value, 0);
  return text.length > 3 ? `${text.slice(0, -3)},${text.slice(-3)}` : text;
};
const named = (r: Row, names: readonly string[], join: (name: string, value: string) => string): string[] =>
  four(r).map((value, at) => join(names[at] ?? '', value));

const usualNames = ['O2', 'CO', 'TS', 'TA'];

export const furtherDialects: readonly Dialect[] = [
  // markup
  {
    name: 'elements',
    lines: (r) => [`<r>${named(r, usualNames, (name, value) => `<${name}>${value}</${name}>`).join('')}</r>`],
    truth: usual,
  },
  {
    name: 'attributes',
    lines: (r) => [`<sample t="${r.t}" ${named(r, ['o2', 'co', 'flue', 'air'], (name, value) => `${name}="${value}"`).join(' ')}/>`],
    truth: usual,
  },
  {
    name: 'elements with units',
    lines: (r) => {
      const [o2, co, stack, air] = fourF(r);
      return [
        `<data time="${clock(r.t)}"><o2 unit="%">${o2}</o2><co unit="ppm">${co}</co><stack unit="F">${stack}</stack><ambient unit="F">${air}</ambient></data>`,
      ];
    },
    truth: inF,
  },
  {
    name: 'elements over several lines',
    head: ['<?xml version="1.0"?>', '<log>'],
    lines: (r) => ['<rec>', ...named(r, ['o2', 'co', 'tflue', 'tair'], (name, value) => `  <${name}>${value}</${name}>`), '</rec>'],
    truth: usual,
  },
  {
    name: 'named elements',
    lines: (r) => [`<m>${named(r, usualNames, (name, value) => `<v n="${name}">${value}</v>`).join('')}</m>`],
    truth: usual,
  },
  {
    name: 'value attributes',
    lines: (r) => [`<d>${named(r, usualNames, (name, value) => `<channel id="${name}" value="${value}"/>`).join('')}</d>`],
    truth: usual,
  },
  // keys
  {
    name: 'braces without quotes',
    lines: (r) => [`{${named(r, usualNames, (name, value) => `${name}:${value}`).join(',')}}`],
    truth: usual,
  },
  {
    name: 'braces with single quotes',
    lines: (r) => [`{${named(r, ['o2', 'co', 'stack', 'air'], (name, value) => `'${name}': ${value}`).join(', ')}}`],
    truth: usual,
  },
  {
    name: 'pairs between ampersands',
    lines: (r) => [`${named(r, ['o2', 'co', 'stack', 'amb'], (name, value) => `${name}=${value}`).join('&')}&bat=87`],
    truth: usual,
  },
  {
    name: 'line protocol with a bare time at the end',
    lines: (r) => [
      `flue,unit=1 o2=${f(r.o2, 1)},co=${f(r.co, 0)}i,stack=${f(r.stack, 1)},air=${f(r.air, 1)} ${1_764_000_000 + r.t}000000000`,
    ],
    truth: usual,
  },
  {
    name: 'decimal comma, letters for room and smoke',
    lines: (r) => [comma(named(r, ['O2', 'CO', 'TR', 'TL'], (name, value) => `${name}=${value}`).join(' '))],
    truth: usual,
  },
  {
    name: 'value, unit, name',
    lines: (r) => {
      const [o2, co, stack, air] = four(r);
      return [`${o2} % O2  ${co} ppm CO  ${stack} C FT  ${air} C AT`];
    },
    truth: usual,
  },
  {
    name: 'slip with the values first',
    lines: (r) => {
      const [o2, co, stack, air] = four(r);
      return ['Analysis', clock(r.t), `  ${o2} %    O2`, `  ${co} ppm  CO`, `  ${stack} \u00b0C  Tflue`, `  ${air} \u00b0C  Tair`];
    },
    truth: usual,
  },
  {
    name: 'time, name, value, unit',
    lines: (r) => {
      const units = ['%', 'ppm', 'C', 'C'];
      return four(r).map((value, at) => `${clock(r.t)},${['O2', 'CO', 'FLUE', 'AIR'][at]},${value},${units[at]}`);
    },
    truth: usual,
  },
  {
    name: 'query string of one value each',
    lines: (r) =>
      named(r, ['MEAS:O2?', 'MEAS:CO?', 'MEAS:TEMP:STACK?', 'MEAS:TEMP:AIR?'], (name, value) => `${name}\n${value}`).flatMap((text) =>
        text.split('\n'),
      ),
    truth: usual,
  },
  // one value a line, no names
  { name: 'values one a line', lines: (r) => four(r), truth: usual },
  { name: 'values one a line, dashes between', lines: (r) => [...four(r), '----'], truth: usual },
  {
    name: 'values with units one a line',
    lines: (r) => {
      const [o2, co, stack, air] = four(r);
      return [`${o2} %`, `${co} ppm`, `${stack} \u00b0C`, `${air} \u00b0C`];
    },
    truth: usual,
  },
  // columns
  {
    name: 'thousands comma between semicolons',
    head: ['Time;O2 %;CO ppm;Flue C;Amb C'],
    lines: (r) => [`${clock(r.t)};${f(r.o2, 1)};${thousands(r.co)};${f(r.stack, 1)};${f(r.air, 1)}`],
    truth: usual,
    scenario: { co: 1600 },
  },
  { name: 'unit before the name', head: ['%O2,ppm CO,degF stack,degF air'], lines: (r) => [fourF(r).join(',')], truth: inF },
  {
    name: 'record number, date and clock',
    lines: (r, index) => [`${index + 1};25.11.26;${clock(r.t)};${comma(four(r).join(';'))}`],
    truth: usual,
  },
  { name: 'pump and battery behind', lines: (r) => [`${four(r).join(',')},1,87,7.40`], truth: usual },
  {
    name: 'a check digit behind',
    lines: (r) => [`${four(r).join(',')},${codes(four(r).join('')).reduce((sum, code) => sum + code, 0) % 10}`],
    truth: usual,
  },
  {
    name: 'tenths without a decimal mark',
    lines: (r) => [`${zeroed(r.o2 * 10, 4)} ${zeroed(r.co, 4)} ${zeroed(r.stack * 10, 4)} ${zeroed(r.air * 10, 4)}`],
    truth: usual,
  },
  {
    name: 'signs and a prompt between touching values',
    lines: (r) => [
      `>+${f(r.o2, 1).padStart(6, '0')}+${f(r.co, 0).padStart(6, '0')}+${f(r.stack, 1).padStart(6, '0')}+${f(r.air, 1).padStart(6, '0')}`,
    ],
    truth: usual,
  },
  {
    name: 'temperature of the smoke in Swedish',
    head: ['tid;O2;CO;r\u00f6kgastemp;lufttemp'],
    lines: (r) => [comma(`${clock(r.t)};${four(r).join(';')}`)],
    truth: usual,
  },
  {
    name: 'a banner that has as many words',
    head: [
      '*** GAS MONITOR ***',
      'Firmware 2.13 build 4711',
      'S/N 004711  Cal due 2027-03-01',
      'Self test 1 OK',
      'O2 %  CO ppm  FLUE C  AIR C',
    ],
    lines: (r) => [four(r).join('  ')],
    truth: usual,
  },
  { name: 'cold room', lines: (r) => [four(r).join(',')], truth: usual, scenario: { air: 5 } },
  { name: 'frosty room', lines: (r) => [four(r).join(' ')], truth: usual, scenario: { air: -6 } },
  // checks
  { name: 'Fletcher-16 behind a star', lines: (r) => [`${four(r).join(',')}*${fletcher(four(r).join(','))}`], truth: usual },
  { name: 'a check nobody knows', lines: (r) => [`${four(r).join(',')}*${adler(four(r).join(','))}`], truth: usual },
  // line ends
  {
    name: 'NUL ends a line',
    end: '\u0000',
    lines: (r) => [named(r, usualNames, (name, value) => `${name}=${value}`).join(' ')],
    truth: usual,
  },
  { name: 'ETX ends a line', end: '\u0003', lines: (r) => [`\u0002${four(r).join(';')}`], truth: usual },
  { name: 'fill behind a line end', end: '\r\n\u0000\u0000', lines: (r) => [four(r).join(';')], truth: usual },
];

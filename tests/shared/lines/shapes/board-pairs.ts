/** Boards that send names beside values, and boards that send objects. */
import type { Row } from './dialect.ts';
import type { Own } from './own-shape.ts';
import { clockFrom, f, n, comma, toF, all, xor } from './shape-values.ts';

const clock = clockFrom(16, 2);
const gases = (r: Row) => ({ o2: n(r.o2, 1), co: n(r.co, 0) });
const signed = (value: number, whole: number, digits: number): string =>
  `${value < 0 ? '-' : '+'}${f(Math.abs(value), digits).padStart(whole + (digits > 0 ? digits + 1 : 0), '0')}`;

export const pairs: Own[] = [
  {
    name: 'names, signs, digits and units without anything between',
    expect: 'read',
    why: 'every name is followed by a sign, every value by its unit',
    row: (r) => `O2${signed(r.o2, 3, 2)}%CO${signed(r.co, 5, 0)}ppmTS${signed(r.stack, 4, 1)}CTA${signed(r.air, 4, 1)}C`,
    truth: (r) => ({ ...all(r), o2: n(r.o2, 2) }),
  },

  {
    name: 'the same with CO2 and Fahrenheit',
    expect: 'read',
    why: 'the sign ends the name: CO2 is not CO with a 2',
    row: (r) => `O2${signed(r.o2, 2, 1)}%CO2${signed(r.co2, 2, 1)}%CO${signed(r.co, 4, 0)}PPM STACK${signed(toF(r.stack), 4, 0)}F`,
    truth: (r) => ({ ...gases(r), co2: n(r.co2, 1), stack: (n(toF(r.stack), 0) - 32) / 1.8 }),
  },

  {
    name: 'names, signs and digits without units',
    expect: 'ask',
    why: 'names are clear, the temperatures have no unit',
    row: (r) => `O2${signed(r.o2, 3, 2)}CO${signed(r.co, 5, 0)}TS${signed(r.stack, 4, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'an at sign between name and value',
    expect: 'read',
    why: 'names with units in every pair',
    row: (r) => `O2@${f(r.o2, 1)}% CO@${f(r.co, 0)}ppm FLUE@${f(r.stack, 1)}C AMB@${f(r.air, 1)}C`,
    truth: all,
  },

  {
    name: 'a sentence of name, value, unit with a check',
    expect: 'read',
    why: 'name, value and unit by turns, XOR behind a star',
    row: (r) => {
      const body = `FGGAS,O2,${f(r.o2, 1)},%,CO,${f(r.co, 0)},ppm,TSTK,${f(r.stack, 1)},C,TAMB,${f(r.air, 1)},C`;
      return `$${body}*${xor(body)}`;
    },
    truth: all,
  },

  {
    name: 'the same, one line in nine spoilt on its way',
    expect: 'read',
    why: 'a line with a wrong check is not read',
    row: (r, at) => {
      const body = `FGGAS,O2,${f(r.o2, 1)},%,CO,${f(r.co, 0)},ppm,TSTK,${f(r.stack, 1)},C`;
      return at % 9 === 4 ? `$${body.replace(/O2,\d/, 'O2,9')}*${xor(body)}` : `$${body}*${xor(body)}`;
    },
    truth: (r, at) => (at % 9 === 4 ? {} : { ...gases(r), stack: n(r.stack, 1) }),
  },

  {
    name: 'blanks around every sign, semicolons between',
    expect: 'read',
    why: 'names of two words, units behind a blank',
    row: (r) => `O2 = ${f(r.o2, 1)} % ; CO = ${f(r.co, 0)} ppm ; T flue = ${f(r.stack, 1)} C ; T air = ${f(r.air, 1)} C`,
    truth: all,
  },

  {
    name: 'German short forms AT and VT: flue gas and combustion air',
    expect: 'ask',
    why: 'AT is the flue gas in German and the ambient in English; only the values tell',
    row: (r) => comma(`O2: ${f(r.o2, 1)} % CO: ${f(r.co, 0)} ppm AT: ${f(r.stack, 1)} °C VT: ${f(r.air, 1)} °C`),
    truth: all,
  },

  {
    name: 'objects with French names',
    expect: 'read',
    why: 'oxygène, monoxyde, fumées, air ambiant, with units in the keys',
    row: (r, at) =>
      `{"horloge":"${clock(at)}","oxygene_pct":${f(r.o2, 1)},"monoxyde_ppm":${f(r.co, 0)},"t_fumees_C":${f(r.stack, 1)},"t_ambiante_C":${f(r.air, 1)}}`,
    truth: all,
  },

  {
    name: 'objects whose values are German texts',
    expect: 'read',
    why: 'units behind the values, decimal commas inside the quotes',
    row: (r) =>
      `{"O2":"${comma(f(r.o2, 1))} %","CO":"${f(r.co, 0)} ppm","Abgas":"${comma(f(r.stack, 1))} °C","Raumluft":"${comma(f(r.air, 1))} °C"}`,
    truth: all,
  },
];

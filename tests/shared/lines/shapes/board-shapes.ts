/**
 * A further set of strange line shapes, written with their truth before the learner was run on them: glued signs and units, odd
 * separators, checks, objects, heads that lie. Values are our own.
 */
import type { Row } from './corpus.ts';
import { shapesOf, type Own } from './own-field-shapes.ts';
import type { FieldShape } from '../score-field.ts';

const f = (value: number, digits: number): string => value.toFixed(digits);
const n = (value: number, digits: number): number => Number(value.toFixed(digits));
const comma = (text: string): string => text.replaceAll('.', ',');
const two = (value: number): string => String(value).padStart(2, '0');
const clock = (at: number): string => `16:${two(2 + Math.floor(at / 60))}:${two(at % 60)}`;
const signed = (value: number, whole: number, digits: number): string =>
  `${value < 0 ? '-' : '+'}${f(Math.abs(value), digits).padStart(whole + (digits > 0 ? digits + 1 : 0), '0')}`;
const all = (r: Row) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1), air: n(r.air, 1) });
const gases = (r: Row) => ({ o2: n(r.o2, 1), co: n(r.co, 0) });
const xor = (text: string): string =>
  [...text]
    .reduce((sum, one) => sum ^ one.charCodeAt(0), 0)
    .toString(16)
    .toUpperCase()
    .padStart(2, '0');
const toF = (celsius: number): number => celsius * 1.8 + 32;

const shapes: Own[] = [
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
  {
    name: 'infra-red CO2 in ppm of a flue, and a temperature',
    expect: 'ask',
    why: 'CO2 is clear, where the temperature is measured is not',
    head: ['Time,CO2 (ppm),Temp (C)'],
    row: (r, at) => `${clock(at)},${f(r.co2 * 1e4, 0)},${f(r.stack, 1)}`,
    truth: (r) => ({ co2: n(r.co2 * 1e4, 0) / 1e4, stack: n(r.stack, 1) }),
  },
  {
    name: 'air ratio in front of the gases',
    expect: 'read',
    why: 'lambda is no gas; the others are named with units',
    head: ['Lambda [-];O2 [Vol-%];CO [ppm];Abgas [°C]'],
    row: (r) => comma(`${f(20.946 / (20.946 - r.o2), 2)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)}`),
    truth: (r) => ({ ...gases(r), stack: n(r.stack, 1) }),
  },
  {
    name: 'a row of units in millilitres per cubic metre and kelvin',
    expect: 'read',
    why: 'ml/m³ is ppm by volume; kelvin is said',
    head: ['Zeit\tSauerstoff\tKohlenmonoxid\tRauchgas\tVerbrennungsluft', 's\tVol.-%\tml/m³\tK\tK'],
    row: (r, at) => comma(`${at}\t${f(r.o2, 2)}\t${f(r.co, 0)}\t${f(r.stack + 273.15, 2)}\t${f(r.air + 273.15, 2)}`),
    truth: (r) => ({
      o2: n(r.o2, 2),
      co: n(r.co, 0),
      stack: n(r.stack + 273.15, 2) - 273.15,
      air: n(r.air + 273.15, 2) - 273.15,
    }),
  },
  {
    name: 'CO in per cent with four decimals',
    expect: 'read',
    why: 'name and unit say it',
    head: ['t [s],O2 [%],CO [%],Flue [degC]'],
    row: (r, at) => `${at},${f(r.o2, 2)},${f(r.co / 1e4, 4)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co / 1e4, 4) * 1e4, stack: n(r.stack, 1) }),
  },
  {
    name: 'CO in mg/m3 referred to 3 % oxygen',
    expect: 'ask',
    why: 'a corrected CO is not what is in the flue',
    head: ['Time;O2 [%];CO [mg/Nm³ @ 3% O2];Flue gas [°C]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};${f((r.co * 1.25 * 17.95) / (20.946 - r.o2), 0)};${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), stack: n(r.stack, 1) }),
  },
  {
    name: 'a head that lies: oxygen and monoxide over each other',
    expect: 'ask',
    why: 'no flue has 40 % of oxygen beside 5 ppm with a decimal',
    head: ['time,O2 [%],CO [ppm],Stack [C],Ambient [C]'],
    row: (r, at) => `${at},${f(r.co, 0)},${f(r.o2, 1)},${f(r.stack, 1)},${f(r.air, 1)}`,
    truth: (r) => ({ stack: n(r.stack, 1), air: n(r.air, 1) }),
  },
  {
    name: 'a head that lies: degrees Celsius over Fahrenheit',
    expect: 'ask',
    why: 'no boiler room has 71 °C',
    head: ['time,O2 [%],CO [ppm],Stack [C],Room [C]'],
    row: (r, at) => `${at},${f(r.o2, 1)},${f(r.co, 0)},${f(toF(r.stack), 1)},${f(toF(r.air), 1)}`,
    truth: gases,
  },
  {
    name: 'a head that lies: CO2 over oxygen, and no other gas',
    expect: 'ask',
    why: 'starts at 20.9 in the air: that is oxygen',
    head: ['time,CO2 [%],CO [ppm],Stack [C]'],
    row: (r, at) => `${at},${at < 20 ? '20.9' : f(r.o2, 1)},${at < 20 ? '0' : f(r.co, 0)},${f(r.stack, 1)}`,
    truth: (r, at) => ({ co: at < 20 ? 0 : n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'hexadecimal words between commas',
    expect: 'refuse',
    why: 'no names, no units',
    row: (r) =>
      [r.o2 * 100, r.co, r.stack * 10, r.air * 10].map((value) => `0x${Math.round(value).toString(16).padStart(4, '0')}`).join(','),
  },
  {
    name: 'four bars of minus signs, then -999, then values',
    expect: 'read',
    why: 'names and units in the head; words and numbers for no value',
    head: ['Clock;O2 %;CO ppm;T-Gas °C;T-Air °C'],
    row: (r, at) =>
      at < 8
        ? `${clock(at)};----;----;${f(r.air, 1)};${f(r.air, 1)}`
        : at % 17 === 9
          ? `${clock(at)};-999;-999;${f(r.stack, 1)};${f(r.air, 1)}`
          : `${clock(at)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`,
    truth: (r, at) =>
      at < 8 ? { stack: n(r.air, 1), air: n(r.air, 1) } : at % 17 === 9 ? { stack: n(r.stack, 1), air: n(r.air, 1) } : all(r),
  },
  {
    name: 'Italian names, measured and set',
    expect: 'read',
    why: 'misurato is measured, impostato is set',
    head: ['Ora;O2 misurato [%];O2 impostato [%];CO [ppm];T fumi [°C];T aria comburente [°C]'],
    row: (r, at) => comma(`${clock(at)};${f(r.o2, 1)};5.0;${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`),
    truth: all,
  },
  {
    name: 'French names with degree signs in front',
    expect: 'read',
    why: 'T° fumées and T° air comburant',
    head: ['Heure;Oxygène (%);CO (ppm);T° fumées (°C);T° air comburant (°C)'],
    row: (r, at) => comma(`${clock(at)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`),
    truth: all,
  },
  {
    name: 'hashes between the pairs',
    expect: 'read',
    why: 'names and units in every pair',
    row: (r) => `#O2:${f(r.o2, 1)}%#CO:${f(r.co, 0)}ppm#Stack:${f(r.stack, 1)}C#Air:${f(r.air, 1)}C#`,
    truth: all,
  },
  {
    name: 'every pair in square brackets',
    expect: 'read',
    why: 'names and units in every pair',
    row: (r) => `[O2=${f(r.o2, 1)}%][CO=${f(r.co, 0)}ppm][Stack=${f(r.stack, 1)}C]`,
    truth: (r) => ({ ...gases(r), stack: n(r.stack, 1) }),
  },
  {
    name: 'commas inside the pairs, semicolons between them',
    expect: 'read',
    why: 'name and value by turns',
    row: (r) => `O2,${f(r.o2, 1)};CO,${f(r.co, 0)};TSTACK,${f(r.stack, 1)};TAIR,${f(r.air, 1)}`,
    truth: all,
  },
  {
    name: 'value and unit by turns between bars, no names',
    expect: 'ask',
    why: 'units leave open which temperature is which',
    row: (r) => `${f(r.o2, 1)}|%|${f(r.co, 0)}|ppm|${f(r.stack, 1)}|C|${f(r.air, 1)}|C`,
    truth: all,
  },
  {
    name: 'oxygen as a mole fraction',
    expect: 'ask',
    why: 'mol/mol is a fraction of one',
    mayRefuse: true,
    head: ['t_s,x_O2 [mol/mol],T_flue [K]'],
    row: (r, at) => `${at},${f(r.o2 / 100, 4)},${f(r.stack + 273.15, 1)}`,
    truth: (r) => ({ o2: n(r.o2 / 100, 4) * 100, stack: n(r.stack + 273.15, 1) - 273.15 }),
  },
  {
    name: 'rows of alarm limits among the rows of values',
    expect: 'ask',
    why: 'the letter in front says which rows are measured',
    head: ['Kind,O2 [%],CO [ppm],Stack [C],Air [C]'],
    row: (r, at) => {
      const own = `M,${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`;
      return at % 4 === 3 ? [own, 'L,3.0,100,250.0,40.0'] : own;
    },
    truth: all,
  },
  {
    name: 'two ranges of one monoxide cell',
    expect: 'ask',
    why: 'two columns of CO',
    head: ['Time,O2 [%],CO low [ppm],CO high [ppm],Flue [C]'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.co, 1)},${f(Math.round(r.co / 50) * 50, 0)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 1), stack: n(r.stack, 1) }),
  },
  {
    name: 'five gases in an odd order over a row of units',
    expect: 'read',
    why: 'names above, units below',
    head: ['Nr NO NO2 SO2 CO O2 Tg', '- ppm ppm ppm ppm % degC'],
    row: (r, at) => `${at + 1} ${f(r.no, 0)} ${f(3 + (at % 3), 0)} ${f(20 + (at % 5), 0)} ${f(r.co, 0)} ${f(r.o2, 1)} ${f(r.stack, 1)}`,
    truth: (r) => ({ ...gases(r), stack: n(r.stack, 1) }),
  },
  {
    name: 'units in front of the names',
    expect: 'read',
    why: '%O2, ppmCO',
    head: ['%O2\tppmCO\t°C flue\t°C room'],
    row: (r) => `${f(r.o2, 1)}\t${f(r.co, 0)}\t${f(r.stack, 1)}\t${f(r.air, 1)}`,
    truth: all,
  },
  {
    name: 'the air of the room: oxygen, monoxide, temperature',
    expect: 'ask',
    why: 'none of it is flue gas',
    mayRefuse: true,
    head: ['Time;Room O2 [%];Room CO [ppm];Room temp [°C]'],
    row: (r, at) => `${clock(at)};20.${8 + (at % 2)};${at % 3};${f(r.air, 1)}`,
    truth: (r) => ({ air: n(r.air, 1) }),
    optional: ['air_c'],
  },
  {
    name: 'oxygen before and behind a catalyst',
    expect: 'ask',
    why: 'two columns of O2',
    head: ['Time;O2 inlet [%];O2 outlet [%];CO outlet [ppm]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};${f(r.o2 - 0.4, 1)};${f(r.co, 0)}`,
  },
  {
    name: 'oil of a boiler beside its flue oxygen',
    expect: 'read',
    why: 'oil temperature and oil pressure are not the flue',
    head: ['Time,Oil temp [°C],Oil pressure [bar],Flue O2 [%],Boiler water [°C]'],
    row: (r, at) => `${clock(at)},${f(60 + (at % 7) / 10, 1)},${f(11.8 + (at % 3) / 10, 1)},${f(r.o2, 1)},${f(71 + at / 60, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1) }),
  },
  {
    name: 'COP and COD are no carbon monoxide',
    expect: 'refuse',
    why: 'a heat pump and a sewage works',
    head: ['Time;COP;COD [mg/l];T in [°C];T out [°C]'],
    row: (r, at) => `${clock(at)};${f(3.1 + (at % 5) / 10, 1)};${f(210 + (at % 9), 0)};${f(r.air, 1)};${f(r.air + 14, 1)}`,
  },
  {
    name: 'an air preheater: hot air is not the air of the room',
    expect: 'ask',
    why: 'the air behind the preheater has 180 °C',
    head: ['Time;O2 [%];Flue gas before preheater [°C];Flue gas after preheater [°C];Combustion air after preheater [°C]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};${f(r.stack + 90, 1)};${f(r.stack, 1)};${f(r.stack - 40, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), stack: n(r.stack, 1) }),
  },
  {
    name: 'dry in brackets behind every unit',
    expect: 'read',
    why: 'dry gas is what is wanted',
    row: (r) => `O2=${f(r.o2, 1)}%vol(dry);CO=${f(r.co, 0)}ppm(dry);TS=${f(r.stack, 1)}°C;TA=${f(r.air, 1)}°C`,
    truth: all,
  },
  {
    name: 'the time at the end behind an at sign',
    expect: 'read',
    why: 'names and units by turns, seconds since 1970 last',
    row: (r, at) => `O2 ${f(r.o2, 2)} % CO ${f(r.co, 0)} ppm Flue ${f(r.stack, 1)} C @${1_924_992_000 + at}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
];

export const boardShapes: FieldShape[] = shapesOf(shapes, 5200);

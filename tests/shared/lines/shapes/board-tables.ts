/** Boards that send rows: with heads that lie, with rows between, and with other quantities. */
import type { Row } from './dialect.ts';
import type { Own } from './own-shape.ts';
import { clockFrom, f, n, comma, toF, all } from './shape-values.ts';

const clock = clockFrom(16, 2);
const gases = (r: Row) => ({ o2: n(r.o2, 1), co: n(r.co, 0) });
export const tables: Own[] = [
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

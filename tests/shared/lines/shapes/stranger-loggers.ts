/** Loggers, boards, printed slips and corrected CO as a stranger would bring them. */
import type { Own } from './own-shape.ts';
import { clockFrom, f, n, comma, two, wander, toF, fromF, all } from './shape-values.ts';

const clock = clockFrom(14, 8);
export const loggers: Own[] = [
  {
    name: 'boiler control: set values and alarm limits beside the values',
    expect: 'read',
    why: 'set value and limit columns are not measured',
    head: ['Time;O2 [%];O2 setpoint [%];O2 min alarm [%];CO [ppm];CO alarm limit [ppm];Flue gas temp [°C];Mode'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};4.5;1.5;${f(r.co, 0)};200;${f(r.stack, 1)};AUTO`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'stove bench: dry and wet oxygen side by side',
    expect: 'read',
    why: 'dry is asked for and is there',
    head: ['t_s,O2_wet_pct,O2_dry_pct,CO_dry_ppm,T_flue_C,T_amb_C'],
    row: (r, at) => `${at},${f(r.o2 * 0.91, 2)},${f(r.o2, 2)},${f(r.co, 1)},${f(r.stack, 1)},${f(r.air, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 1), stack: n(r.stack, 1), air: n(r.air, 1) }),
  },

  {
    name: 'two oxygen probes, two flues, one CO',
    expect: 'ask',
    why: 'two O2 columns of equal right',
    head: ['Time,O2 probe 1 [%],O2 probe 2 [%],CO [ppm],Stack [°C]'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.o2 + 0.6, 1)},${f(r.co, 0)},${f(r.stack, 1)}`,
  },

  {
    name: 'Italian logger with accents and apostrophes',
    expect: 'read',
    why: 'Italian names, degrees',
    head: ['Data;Ora;Ossigeno %;Monossido di carbonio (ppm);Temperatura fumi [°C];Temperatura aria comburente [°C];Umidità %'],
    row: (r, at) =>
      `04/05/2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(wander(at, 41, 44), 1)}`)}`,
    truth: all,
  },

  {
    name: 'Spanish logger, monóxido de carbono',
    expect: 'read',
    why: 'Spanish names',
    head: ['Fecha;Hora;Oxígeno (%);Monóxido de carbono (ppm);Temperatura de humos (°C);Temperatura del aire (°C)'],
    row: (r, at) => `04/05/2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`)}`,
    truth: all,
  },

  {
    name: 'French logger, oxygène and monoxyde',
    expect: 'read',
    why: 'French names, latin-1 bytes',
    latin: true,
    head: ['Date;Heure;Oxygène (%);Monoxyde de carbone (ppm);Température fumées (°C);Température air comburant (°C);Dépression (Pa)'],
    row: (r, at) => `04/05/2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(r.draft, 1)}`)}`,
    truth: all,
  },

  {
    name: 'German kiln log with slashes before the units',
    expect: 'read',
    why: 'Name/unit',
    head: ['Zeit/s\tO2/%\tCO/ppm\tTabgas/°C\tTluft/°C\tDruck/mbar'],
    row: (r, at) => `${at}\t${comma(`${f(r.o2, 1)}\t${f(r.co, 0)}\t${f(r.stack, 1)}\t${f(r.air, 1)}\t${f(wander(at, 1011, 1012), 1)}`)}`,
    truth: all,
  },

  {
    name: 'German laboratory: Abgastemperatur, Raumtemperatur, Kohlenmonoxid',
    expect: 'read',
    why: 'full German words, units in brackets',
    head: ['Datum;Uhrzeit;Sauerstoffgehalt [Vol.-%];Kohlenmonoxid [ppm];Abgastemperatur [°C];Raumtemperatur [°C];Wirkungsgrad [%]'],
    row: (r, at) =>
      `04.05.2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(91 - r.o2 / 3, 1)}`)}`,
    truth: all,
  },

  {
    name: 'board, three temperatures TEMP1 to TEMP3',
    expect: 'ask',
    why: 'no word says where the temperatures are',
    head: ['ms,O2_pct,CO_ppm,TEMP1,TEMP2,TEMP3'],
    row: (r, at) => `${at * 1000 + 13},${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 2)},${f(r.air, 2)},${f(wander(at, 55, 60), 2)}`,
  },

  {
    name: 'underscores: o2_pct, co_ppm, T_stack_C, T_air_C',
    expect: 'read',
    why: 'names hold the units',
    head: ['epoch_ms,o2_pct,co_ppm,T_stack_C,T_air_C,batt_V'],
    row: (r, at) =>
      `${1_946_203_440_000 + at * 1000},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)},${f(wander(at, 3.7, 3.8), 2)}`,
    truth: all,
  },

  {
    name: 'exponents everywhere',
    expect: 'read',
    why: '1e-3 notation, volume fractions named %',
    head: ['time [s],O2 [%],CO [ppm],T_stack [degC],m_fuel [kg/s]'],
    row: (r, at) =>
      `${at.toExponential(3)},${r.o2.toExponential(4)},${r.co.toExponential(4)},${r.stack.toExponential(4)},${wander(at, 1e-4, 2e-4).toExponential(3)}`,
    truth: (r) => ({
      o2: Number(r.o2.toExponential(4)),
      co: Number(r.co.toExponential(4)),
      stack: Number(r.stack.toExponential(4)),
    }),
  },

  {
    name: 'nested JSON',
    expect: 'read',
    why: 'objects in objects, units in the keys',
    row: (r, at) =>
      JSON.stringify({
        ts: 1_946_203_440_000 + at * 1000,
        dev: 'n4',
        gas: { o2_pct: n(r.o2, 2), co_ppm: n(r.co, 0) },
        temp: { stack_c: n(r.stack, 1), ambient_c: n(r.air, 1) },
        wifi: { rssi: -60 - (at % 5) },
      }),
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1), air: n(r.air, 1) }),
  },

  {
    name: 'JSON with value and unit for each',
    expect: 'read',
    why: 'unit beside the value',
    row: (r) =>
      JSON.stringify({
        O2: { value: n(r.o2, 1), unit: '%' },
        CO: { value: n(r.co, 0), unit: 'ppm' },
        FlueTemp: { value: n(r.stack, 1), unit: 'C' },
      }),
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'printed slip over several lines',
    expect: 'read',
    why: 'name, dots, value, unit; a rule between',
    row: (r, at) => [
      `Time ........ ${clock(at)}`,
      `O2 .......... ${f(r.o2, 1)} %`,
      `CO .......... ${f(r.co, 0)} ppm`,
      `Flue temp ... ${f(r.stack, 1)} °C`,
      `Air temp .... ${f(r.air, 1)} °C`,
      '======================',
    ],
    multi: true,
    truth: all,
  },

  {
    name: 'slip in German over several lines',
    expect: 'read',
    why: 'Sauerstoff, Abgastemperatur and a blank line between',
    row: (r) => [
      `Sauerstoff      : ${comma(f(r.o2, 1))} %`,
      `CO              : ${f(r.co, 0)} ppm`,
      `Abgastemperatur : ${comma(f(r.stack, 1))} °C`,
      `Lufttemperatur  : ${comma(f(r.air, 1))} °C`,
      '',
    ],
    multi: true,
    truth: all,
  },

  {
    name: 'epoch in ms, no header, four columns',
    expect: 'ask',
    why: 'no names',
    row: (r, at) => `${1_946_203_440_000 + at * 1000},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'am and pm, Fahrenheit, 0.000 draft',
    expect: 'read',
    why: 'Fahrenheit in the names',
    head: ['Time,Oxygen %,CO ppm,Stack Temp F,Ambient Temp F,Draft inWC,Efficiency %'],
    row: (r, at) =>
      `02:${two(8 + Math.floor(at / 60))}:${two(at % 60)} pm,${f(r.o2, 1)},${f(r.co, 0)},${f(toF(r.stack), 0)},${f(toF(r.air), 0)},-0.0${20 + (at % 4)},${f(84 - r.o2 / 4, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: fromF(n(toF(r.stack), 0)), air: fromF(n(toF(r.air), 0)) }),
  },

  {
    name: 'the board starts anew in the middle',
    expect: 'read',
    why: 'banner and header again, clock from zero',
    head: ['', 'Boot v1.4', 'sensor warm', 'sec,O2%,COppm,TstackC'],
    row: (r, at) => {
      const line = `${at < 47 ? at : at - 47},${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 1)}`;
      return at === 46 ? [line, 'Brownout detector was triggered', 'Boot v1.4', 'sensor warm', 'sec,O2%,COppm,TstackC'] : line;
    },
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'statistics at the end',
    expect: 'read',
    why: 'footer lines with Min, Max, Mean',
    head: ['No,Time,O2 (%),CO (ppm),Flue T (°C),Air T (°C)'],
    row: (r, at) => `${at + 1},${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`,
    truth: all,
    foot: ['', 'Min,,3.9,21,190.0,20.1', 'Max,,7.9,99,230.4,22.9', 'Mean,,5.0,44,214.0,21.0', 'End of log'],
  },

  {
    name: 'minimum, mean and maximum columns',
    expect: 'ask',
    why: 'three O2 columns: mean is likely, but not sure',
    head: ['Time;O2 min [%];O2 avg [%];O2 max [%];CO min [ppm];CO avg [ppm];CO max [ppm]'],
    row: (r, at) => `${clock(at)};${f(r.o2 - 0.1, 2)};${f(r.o2, 2)};${f(r.o2 + 0.1, 2)};${f(r.co - 2, 0)};${f(r.co, 0)};${f(r.co + 2, 0)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },

  {
    name: 'value with its minimum and maximum beside it',
    expect: 'read',
    why: 'the plain column is the value',
    head: ['Time;O2 [%];O2 min [%];O2 max [%];CO [ppm];CO max [ppm]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 2)};${f(r.o2 - 0.1, 2)};${f(r.o2 + 0.1, 2)};${f(r.co, 0)};${f(r.co + 2, 0)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },

  {
    name: 'duplicate names',
    expect: 'ask',
    why: 'O2 twice under one name with other values',
    head: ['Time,O2,CO,Temp,O2,CO,Temp', ',%,ppm,°C,%,ppm,°C'],
    row: (r, at) =>
      `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.o2 + 1.2, 1)},${f(r.co + 11, 0)},${f(r.stack - 30, 1)}`,
  },

  {
    name: 'engine bench: lambda, O2, CO in per cent, HC, exhaust temperature',
    expect: 'read',
    why: 'CO vol% and HC beside',
    head: ['t [s];Lambda [-];O2 [vol%];CO [vol%];CO2 [vol%];HC [ppm];T_exh [°C];n [rpm]'],
    row: (r, at) =>
      `${at};${f(20.9 / (20.9 - r.o2), 3)};${f(r.o2, 2)};${f(r.co / 1e4, 4)};${f(r.co2, 2)};${f(wander(at, 20, 40), 0)};${f(r.stack, 1)};${f(wander(at, 1495, 1505, 3), 0)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co / 1e4, 4) * 1e4, co2: n(r.co2, 2), stack: n(r.stack, 1) }),
  },

  {
    name: 'plant: emissions referred to 3 % O2 beside raw ppm',
    expect: 'read',
    why: 'corrected mg/m3 column is not the raw ppm',
    head: ['Date Time;O2 dry %;CO ppm;CO mg/m3 @3%O2;NOx mg/m3 @3%O2;Flue gas T °C'],
    row: (r, at) =>
      `2031-05-04 ${clock(at)};${f(r.o2, 2)};${f(r.co, 1)};${f((r.co * 1.25 * 17.9) / (20.9 - r.o2), 1)};${f(wander(at, 120, 140), 1)};${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 1), stack: n(r.stack, 1) }),
  },

  {
    name: 'CO corrected only',
    expect: 'read',
    why: 'CO referred to 3 % O2 is not the CO in the flue; the rest is clear',
    head: ['Time;O2 [%];CO @3%O2 [ppm];Flue gas temperature [°C]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 2)};${f((r.co * 17.9) / (20.9 - r.o2), 0)};${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), stack: n(r.stack, 1) }),
  },

  {
    name: 'CO air-free beside CO',
    expect: 'read',
    why: 'undiluted CO is another figure',
    head: ['Time,O2 %,CO ppm,CO air free ppm,CO2 %,T stack °C'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f((r.co * 20.9) / (20.9 - r.o2), 0)},${f(r.co2, 1)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), co2: n(r.co2, 1), stack: n(r.stack, 1) }),
  },

  {
    name: 'unverdünnt beside CO',
    expect: 'read',
    why: 'German word for undiluted',
    head: ['Uhrzeit;O2 %;CO ppm;CO unverd. ppm;Abgastemp. °C;Verbr.lufttemp. °C'],
    row: (r, at) =>
      `${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f((r.co * 20.9) / (20.9 - r.o2), 0)};${f(r.stack, 1)};${f(r.air, 1)}`)}`,
    truth: all,
  },
];

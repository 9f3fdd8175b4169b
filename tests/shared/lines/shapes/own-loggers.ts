/** Loggers, rigs and programs that send what they say they send. */
import type { Row } from './dialect.ts';
import type { Own } from './own-shape.ts';
import { clockFrom, f, n, comma, two, wander, toF } from './shape-values.ts';

const clock = clockFrom(11, 20);
const usual = (digits: number) => (row: Row) => ({
  o2: n(row.o2, digits),
  co: n(row.co, 0),
  stack: n(row.stack, 1),
  air: n(row.air, 1),
});

export const loggers: Own[] = [
  {
    name: 'German logger, semicolons, decimal comma',
    expect: 'read',
    why: 'names and units in German',
    head: ['Uhrzeit;Sauerstoff [%];CO [ppm];Abgastemperatur [°C];Verbrennungsluft [°C];Zugluft [Pa]'],
    row: (r, at) => `${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(r.draft, 1)}`)}`,
    truth: usual(1),
  },

  {
    name: 'French logger, tabs',
    expect: 'read',
    why: 'names and units in French',
    head: ['Heure\tO2 (%)\tCO (ppm)\tTempérature fumées (°C)\tTempérature ambiante (°C)\tHumidité (%)'],
    row: (r, at) => `${clock(at)}\t${comma(`${f(r.o2, 2)}\t${f(r.co, 0)}\t${f(r.stack, 1)}\t${f(r.air, 1)}\t${f(wander(at, 38, 44), 1)}`)}`,
    truth: usual(2),
  },

  {
    name: 'Spanish table',
    expect: 'read',
    why: 'names and units in Spanish',
    head: ['Hora,Oxígeno (%),CO (ppm),Temp. humos (°C),Temp. ambiente (°C),Batería (V)'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)},${f(wander(at, 7.7, 7.9), 2)}`,
    truth: usual(1),
  },

  {
    name: 'Italian table',
    expect: 'read',
    why: 'names and units in Italian',
    head: ['Ora;Ossigeno %;CO ppm;Temperatura fumi °C;Temperatura aria °C;Peso kg'],
    row: (r, at) => `${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(18.2 - at * 0.004, 3)}`)}`,
    truth: usual(1),
  },

  {
    name: 'rig, units row below, CO in per cent',
    expect: 'read',
    why: 'CO and CO2 in per cent, mass in g',
    head: ['time,O2,CO,CO2,T_flue,mass,mdot', 's,%,%,%,degC,g,g/s'],
    row: (r, at) =>
      `${at * 2},${f(r.o2, 3)},${f(r.co / 1e4, 5)},${f(r.co2, 3)},${f(r.stack, 2)},${f(5000 - at * 0.7, 1)},${f(wander(at, 0.3, 0.4), 3)}`,
    truth: (r) => ({ o2: n(r.o2, 3), co: n(r.co / 1e4, 5) * 1e4, co2: n(r.co2, 3), stack: n(r.stack, 2) }),
  },

  {
    name: 'rig, units row above the names',
    expect: 'read',
    why: 'units first, then names',
    head: ['#units:,s,%vol,ppm,degC,degC,hPa,V', '#test 14, oak, door shut', 'stamp,seconds,O2,CO,FlueTemp,RoomTemp,BaroPres,BattV'],
    row: (r, at) =>
      `20310904 ${clock(at)},${at},${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 2)},${f(r.air, 2)},${f(wander(at, 986, 987), 2)},${f(wander(at, 12.1, 12.3), 2)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 2), air: n(r.air, 2) }),
  },

  {
    name: 'JSON lines with units in the names',
    expect: 'read',
    why: 'units in the keys, a mass beside',
    row: (r, at) =>
      JSON.stringify({
        ts: 1_946_203_441 + at,
        seq: at + 17,
        o2_pct: n(r.o2, 3),
        co_ppm: n(r.co, 1),
        mass_g: n(812 - at * 0.2, 1),
        rssi: -60 - (at % 7),
      }),
    truth: (r) => ({ o2: n(r.o2, 3), co: n(r.co, 1) }),
  },

  {
    name: 'program log with a time, a level and a name before the keys',
    expect: 'read',
    why: 'log prefix',
    row: (r, at) =>
      `2031-02-03 ${clock(at)},123 INFO  gas.reader: o2=${f(r.o2, 2)}% co=${f(r.co, 0)}ppm heater=${f(wander(at, 4.9, 5.1), 2)}V`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },

  {
    name: 'node log with brackets',
    expect: 'read',
    why: 'brackets before one key',
    row: (r, at) => [
      `[${clock(at)}][D][adc:104]: 'Cellar battery': Got voltage=${f(wander(at, 3.6, 3.7), 2)}V`,
      `[${clock(at)}][I][gas:170]: O2=${f(r.o2, 2)}% temp_board=${f(wander(at, 31, 32), 1)}°C`,
    ],
    truth: (r) => ({ o2: n(r.o2, 2) }),
    multi: true,
  },

  {
    name: 'serial monitor with an arrow',
    expect: 'read',
    why: 'a clock and an arrow before the keys',
    row: (r, at) =>
      `${clock(at)}.${String((at * 137) % 1000).padStart(3, '0')} -> O2: ${f(r.o2, 1)} %, CO: ${f(r.co, 0)} ppm, Vcc: ${f(wander(at, 4.9, 5), 2)} V`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0) }),
  },

  {
    name: 'CSV with comments, the names behind a hash',
    expect: 'read',
    why: 'header is a comment',
    head: ['# logger 7, firmware 2.1', '# started 2031-05-04 11:20:00', '# time,o2(%),co(ppm),t_stack(C),t_room(C),fan(rpm)'],
    row: (r, at) =>
      `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)},${String(Math.round(wander(at, 2380, 2420)))}`,
    truth: usual(1),
  },

  {
    name: 'everything quoted',
    expect: 'read',
    why: 'quotes round names and numbers',
    head: ['"Date","Time","O2 [%]","CO [ppm]","Flue gas temperature [°C]","Ambient temperature [°C]","Operator"'],
    row: (r, at) => `"2031-05-04","${clock(at)}","${f(r.o2, 1)}","${f(r.co, 0)}","${f(r.stack, 1)}","${f(r.air, 1)}","shift, early"`,
    truth: usual(1),
  },

  {
    name: 'Fahrenheit with AM and PM',
    expect: 'read',
    why: 'degF, the clock passes noon',
    head: ['Date,Time,O2 (%),CO (ppm),Stack Temp (°F),Ambient Temp (°F),Draft (inH2O)'],
    row: (r, at) =>
      `5/14/2031,${at < 60 ? `11:59:${two(at)} AM` : `12:${two(Math.floor(at / 60) - 1)}:${two(at % 60)} PM`},${f(r.o2, 1)},${f(r.co, 0)},${f(toF(r.stack), 0)},${f(toF(r.air), 0)},${f(r.draft / 249, 3)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: (n(toF(r.stack), 0) - 32) / 1.8, air: (n(toF(r.air), 0) - 32) / 1.8 }),
  },

  {
    name: 'Kelvin with units in brackets',
    expect: 'read',
    why: 'temperatures in K',
    head: ['t [s];O2 [vol%];CO [ppm];T_exhaust [K];T_ambient [K];m [g]'],
    row: (r, at) => `${at};${f(r.o2, 2)};${f(r.co, 1)};${f(r.stack + 273.15, 2)};${f(r.air + 273.15, 2)};${f(812 - at / 3, 2)}`,
    truth: (r) => ({
      o2: n(r.o2, 2),
      co: n(r.co, 1),
      stack: n(r.stack + 273.15, 2) - 273.15,
      air: n(r.air + 273.15, 2) - 273.15,
    }),
  },

  {
    name: 'oxygen in ppm, as a plant sends it',
    expect: 'read',
    why: 'O2 [ppm] of 50 000',
    head: ['time,O2 [ppm],CO [ppm],Flue temp [degC]'],
    row: (r, at) => `${clock(at)},${f(r.o2 * 1e4, 0)},${f(r.co, 0)},${f(r.stack, 0)}`,
    truth: (r) => ({ o2: n(r.o2 * 1e4, 0) / 1e4, co: n(r.co, 0), stack: n(r.stack, 0) }),
  },

  {
    name: 'volts beside values',
    expect: 'read',
    why: 'the same gas as volts and as a value',
    head: ['time,O2_cell [mV],O2 [%],CO_cell [nA],CO [ppm],Board temp [degC]'],
    row: (r, at) => `${clock(at)},${f(r.o2 * 0.52, 2)},${f(r.o2, 1)},${f(r.co * 1.7, 0)},${f(r.co, 0)},${f(wander(at, 31, 33), 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0) }),
  },

  {
    name: 'printed data frame',
    expect: 'read',
    why: 'row numbers without a name, units in the names',
    head: ['      time o2_pct co_ppm mass_kg'],
    row: (r, at) => `${String(at + 1).padEnd(4)} ${clock(at)}  ${f(r.o2, 2)}  ${f(r.co, 0).padStart(5)}   ${f(42.1 - at * 0.01, 3)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },

  {
    name: 'one key a line, with rules between',
    expect: 'read',
    why: 'four lines a reading',
    row: (r) => [`O2: ${f(r.o2, 1)} %`, `CO: ${f(r.co, 0)} ppm`, `Flue temp: ${f(r.stack, 1)} C`, '----------'],
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
    multi: true,
  },

  {
    name: 'round-robin database, U and nan for nothing',
    expect: 'read',
    why: 'epoch and a colon, U where nothing was measured',
    head: ['epoch, o2_percent, co_ppm, dhw_temp_c'],
    row: (r, at) =>
      at % 9 === 4
        ? `${1_946_203_440 + at * 10}, U, U, nan`
        : `${1_946_203_440 + at * 10}, ${f(r.o2, 2)}, ${f(r.co, 1)}, ${f(wander(at, 48, 55), 1)}`,
    truth: (r, at) => (at % 9 === 4 ? {} : { o2: n(r.o2, 2), co: n(r.co, 1) }),
  },
];

/**
 * Line shapes of loggers, boards, rigs and plants, invented here in the spirit of the field shapes and written down with their truth
 * before the learner was tried on them. Values are our own.
 */
import { burnerRows, seeded, type Row } from './corpus.ts';
import type { FieldShape } from '../score-field.ts';

export type Truth = { o2?: number | undefined; co?: number; co2?: number; stack?: number; air?: number };
export type Own = {
  name: string;
  expect: FieldShape['expect'];
  why: string;
  head?: string[];
  /** the lines of one reading; the truth belongs to the first, or to `at` */
  row: (row: Row, at: number) => string | string[];
  truth?: (row: Row, at: number) => Truth;
  multi?: boolean;
  optional?: FieldShape['optional'];
  mayRefuse?: boolean;
  end?: string;
  latin?: boolean;
  /** lines after the last reading */
  foot?: string[];
};

const f = (value: number, digits: number): string => value.toFixed(digits);
const n = (value: number, digits: number): number => Number(value.toFixed(digits));
const comma = (text: string): string => text.replaceAll('.', ',');
const two = (value: number): string => String(value).padStart(2, '0');
const clock = (at: number): string => `11:${two(20 + Math.floor(at / 60))}:${two(at % 60)}`;
const wander = (at: number, low: number, high: number, period = 37): number => low + ((high - low) * (1 + Math.sin(at / period))) / 2;
const toF = (celsius: number): number => celsius * 1.8 + 32;

const usual = (digits: number) => (row: Row) => ({
  o2: n(row.o2, digits),
  co: n(row.co, 0),
  stack: n(row.stack, 1),
  air: n(row.air, 1),
});

const plantNames = Array.from({ length: 150 }, (_, at) =>
  at === 40
    ? 'Flue gas O2 [%]'
    : at === 41
      ? 'Flue gas CO [ppm]'
      : at === 77
        ? 'Stack temperature [degC]'
        : at % 5 === 0
          ? `P${at} drum pressure [bar]`
          : at % 5 === 1
            ? `F${at} feed water flow [t/h]`
            : at % 5 === 2
              ? `T${at} feed water temperature [degC]`
              : at % 5 === 3
                ? `V${at} valve position [%]`
                : `J${at} power [kW]`,
);

const shapes: Own[] = [
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
  {
    name: 'plant, 150 columns with units',
    expect: 'read',
    why: 'three columns of interest among 150',
    head: [`Date;Time;${plantNames.join(';')}`],
    row: (r, at) =>
      `04.05.2031;${clock(at)};${plantNames
        .map((_, index) =>
          index === 40
            ? f(r.o2, 2)
            : index === 41
              ? f(r.co, 1)
              : index === 77
                ? f(r.stack, 1)
                : f(wander(at + index * 3, 5 + index, 9 + index), 2),
        )
        .join(';')}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 1), stack: n(r.stack, 1) }),
  },
  {
    name: 'board with key words that hold digits and units',
    expect: 'read',
    why: 'PM2.5 and CO2 in one line, units behind the values',
    row: (r, at) =>
      `PM2.5=${String(5 + (at % 4))}ug/m3 CO2=${f(410 + at, 0)}ppm CO=${f(2 + (at % 3), 0)}ppm RH=${f(wander(at, 41, 44), 1)}%`,
    truth: (_, at) => ({ co2: (410 + at) / 1e4, co: 2 + (at % 3) }),
  },
  {
    name: 'oxygen cell with status words',
    expect: 'read',
    why: 'a state and a percentage in words',
    row: (r, at) => `seq ${at + 100}; state OK; oxygen ${f(r.o2, 3)} %; cell temperature ${f(wander(at, 44, 45), 1)} C`,
    truth: (r) => ({ o2: n(r.o2, 3) }),
  },
  {
    name: 'CO2 without a unit',
    expect: 'ask',
    why: 'no unit',
    row: (_, at) => [`CO2 value: ${(16 + ((at * 7) % 5)).toString()}`, `Loop: ${at}`],
  },
  {
    name: 'fourteen nameless columns',
    expect: 'ask',
    why: 'no names',
    row: (r, at) =>
      [
        at,
        f(r.o2, 2),
        f(r.co, 0),
        f(r.co2, 2),
        f(r.stack, 1),
        f(r.air, 1),
        ...Array.from({ length: 8 }, (_, i) => f(wander(at * (i + 1), 3 + i * 20, 5 + i * 22), 2)),
      ].join(','),
  },
  {
    name: 'a room: temperature and humidity',
    expect: 'ask',
    why: 'one temperature that no word places',
    head: ['time,Temperature [°C],Humidity [%]'],
    row: (_, at) => `${clock(at)},${f(wander(at, 20, 22), 1)},${f(wander(at, 40, 48, 21), 1)}`,
  },
  {
    name: 'two flues',
    expect: 'ask',
    why: 'O2 twice',
    head: ['time,Flue A O2 [%],Flue B O2 [%],Flue A CO [ppm],Flue B CO [ppm]'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.o2 + 1.1, 1)},${f(r.co, 0)},${f(r.co + 20, 0)}`,
  },
  {
    name: 'a header that lies',
    expect: 'ask',
    why: 'names swapped against units',
    head: ['time,O2 [ppm],CO [%],Stack [°C]'],
    row: (r, at) => `${clock(at)},${f(r.co, 0)},${f(r.o2, 1)},${f(r.stack, 0)}`,
  },
  {
    name: 'stack in per cent, oxygen in degrees',
    expect: 'ask',
    why: 'names swapped against units',
    head: ['time,O2 [°C],CO [ppm],Stack [%]'],
    row: (r, at) => `${clock(at)},${f(r.stack, 1)},${f(r.co, 0)},${f(r.o2, 1)}`,
  },
  {
    name: 'CO with three decimals and no unit',
    expect: 'ask',
    why: 'could be anything',
    head: ['time,co,mass'],
    row: (r, at) => `${clock(at)},${f(r.co / 31, 3)},${f(500 - at * 0.2, 1)}`,
  },
  {
    name: 'one gas and a temperature',
    expect: 'ask',
    why: 'the temperature has no place',
    head: ['time;O2 [%];Temp [°C]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};${f(r.stack, 1)}`,
  },
  {
    name: 'counts with factors',
    expect: 'ask',
    why: 'raw counts, factors in a row above',
    head: ['#0,0.0325,0.0039,0.2,1', '##,##', 'seconds,CO,FlueTemp,PM,Flow'],
    row: (r, at) => `${at * 2},${f(r.co * 31, 0)},${f(r.stack * 256, 0)},${String(50 + (at % 5))},10500`,
  },
  {
    name: 'wet oxygen',
    expect: 'ask',
    why: 'wet, not dry',
    head: ['time,O2 wet [%],Steam flow [t/h]'],
    row: (r, at) => `${clock(at)},${f(r.o2 * 0.9, 2)},${f(wander(at, 12, 14), 2)}`,
  },
  {
    name: 'two monoxide meters',
    expect: 'ask',
    why: 'CO_1 and CO_2 are two COs',
    head: ['time,CO_low [ppm],CO_high [ppm],O2 [%]'],
    row: (r, at) => `${clock(at)},${f(r.co, 0)},${f(r.co + 9, 0)},${f(r.o2, 2)}`,
  },
  {
    name: 'air monitor, CO in mg/m3',
    expect: 'ask',
    why: 'the reference state is not said',
    head: ['time,CO [mg/m3],NO2 [ug/m3],T [°C],RH [%]'],
    row: (_, at) =>
      `${clock(at)},${f(wander(at, 0.4, 2.2), 1)},${f(wander(at, 20, 60, 11), 0)},${f(wander(at, 8, 15, 50), 1)},${f(wander(at, 50, 70), 1)}`,
  },
  {
    name: 'a Kelvin temperature that no word places',
    expect: 'ask',
    why: 'no place',
    head: ['Time,Temperature,Mass', '[s],[K],[g]'],
    row: (_, at) => `${at},${f(296 + at * 0.7, 3)},${f(141 - at * 0.01, 4)}`,
  },
  {
    name: 'weight table',
    expect: 'refuse',
    why: 'mass only',
    head: ['Zeit [s];Masse [g];Massenverlust [g/s]'],
    row: (_, at) => `${at};${comma(f(141 - at * 0.11, 2))};${comma(f(wander(at, 0.09, 0.13), 4))}`,
  },
  {
    name: 'dust station',
    expect: 'refuse',
    why: 'dust only',
    head: ['time;PM1 [ug/m3];PM2.5 [ug/m3];PM10 [ug/m3];counts'],
    row: (_, at) => `${clock(at)};${f(wander(at, 3, 5), 1)};${f(wander(at, 5, 9), 1)};${f(wander(at, 11, 21), 1)};${586000 + at * 3}`,
  },
  {
    name: 'electric meter',
    expect: 'refuse',
    why: 'volts, amperes, watts',
    head: ['timestamp,Voltage (V),Current (A),Power (W),Frequency (Hz)'],
    row: (_, at) => `2031-05-04 ${clock(at)},${f(wander(at, 228, 233), 1)},${f(wander(at, 4, 6), 2)},${f(wander(at, 910, 1400), 0)},50.0`,
  },
  {
    name: 'oxygen as a flow and a pressure',
    expect: 'refuse',
    why: 'the name of a gas, another quantity',
    head: ['time,Oxygen flow [l/min],Oxygen pressure [bar],CO2 flow [kg/h]'],
    row: (_, at) => `${clock(at)},${f(wander(at, 4, 6), 2)},${f(wander(at, 2.9, 3.1), 2)},${f(wander(at, 10, 14), 2)}`,
  },
  {
    name: 'boiler water',
    expect: 'refuse',
    why: 'water temperatures',
    head: ['Zeit;Kessel [°C];Vorlauf [°C];Rücklauf [°C];Warmwasser [°C]'],
    row: (_, at) =>
      `${clock(at)};${f(wander(at, 60, 70), 1)};${f(wander(at, 55, 65), 1)};${f(wander(at, 40, 50), 1)};${f(wander(at, 48, 55), 1)}`,
  },
  {
    name: 'alarm flags',
    expect: 'refuse',
    why: 'the name of a gas, a flag',
    row: (_, at) => `CO alarm: ${at % 40 === 39 ? 1 : 0}, O2 fault: 0, uptime: ${at * 5}`,
  },
  {
    name: 'position sentences',
    expect: 'refuse',
    why: 'a receiver of positions',
    row: (_, at) => `$GPGGA,${112000 + (at % 60)},4807.0${(at * 37) % 100},N,01131.0${(at * 11) % 100},E,1,08,0.9,545.4,M,46.9,M,,`,
  },
  {
    name: 'acceleration',
    expect: 'refuse',
    why: 'three axes',
    head: ['t,ax [m/s2],ay [m/s2],az [m/s2]'],
    row: (_, at) =>
      `${f(at * 0.01, 2)},${f(wander(at, -0.4, 0.4, 3), 3)},${f(wander(at, -0.3, 0.3, 5), 3)},${f(wander(at, 9.7, 9.9, 4), 3)}`,
  },
  {
    name: 'raw sensors only',
    expect: 'refuse',
    why: 'raw counts of gas sensors',
    head: ['time,CO raw,O2 adc [counts],NOx raw'],
    row: (_, at) => `${clock(at)},${f(wander(at, 1300, 1500), 0)},${f(wander(at, 800, 900, 9), 0)},${f(wander(at, 500, 700, 13), 0)}`,
  },
  {
    name: 'frames of a bus',
    expect: 'refuse',
    why: 'bytes in hexadecimal',
    row: (_, at) =>
      `0x${(0x18f0 + (at % 3)).toString(16)} [8] ${Array.from({ length: 8 }, (_u, i) => ((at * 31 + i * 57) % 256).toString(16).padStart(2, '0').toUpperCase()).join(' ')}`,
  },
  {
    name: 'start messages of a board only',
    expect: 'refuse',
    why: 'messages',
    row: (_, at) => [`task ${at % 7} started on core ${at % 2}`, `heap ${200000 - ((at * 131) % 9000)} free`],
  },
];

/** utf-8 bytes, as most of the world writes them */
const bytesOf = (text: string, latin?: boolean): Uint8Array =>
  latin === true ? new Uint8Array(Buffer.from(text, 'latin1')) : new TextEncoder().encode(text);

const built = (own: Own, index: number, seed: number): FieldShape => {
  const random = seeded(200 + seed + index);
  const rows = burnerRows(90, seed + index, {
    o2: 4.6 + random() * 2,
    co: 20 + random() * 50,
    stack: 190 + random() * 60,
    air: 18 + random() * 5,
  });
  const lines = [...(own.head ?? [])];
  const truth: (number | null)[][] = [];
  for (const [at, row] of rows.entries()) {
    const made = own.row(row, at);
    const values = own.truth?.(row, at) ?? {};
    truth.push([lines.length + 1, values.o2 ?? null, values.co ?? null, values.co2 ?? null, values.stack ?? null, values.air ?? null]);
    lines.push(...(typeof made === 'string' ? [made] : made));
  }
  lines.push(...(own.foot ?? []));
  return {
    name: own.name,
    expect: own.expect,
    why: own.why,
    optional: own.optional ?? [],
    multi: own.multi ?? false,
    mayRefuse: own.mayRefuse,
    rows: own.truth === undefined ? [] : truth,
    bytes: bytesOf(lines.join(own.end ?? '\r\n') + (own.end ?? '\r\n'), own.latin),
  };
};

export const shapesOf = (list: readonly Own[], seed: number): FieldShape[] => list.map((own, index) => built(own, index, seed));
export const ownShapes: FieldShape[] = shapesOf(shapes, 700);

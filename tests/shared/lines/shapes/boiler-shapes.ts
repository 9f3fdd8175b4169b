/**
 * Line shapes of boiler houses, boards and rigs, written with their truth before the command line was tried on them as a stranger would:
 * short forms in four languages, heads that lie, kinds of rows that come late, sentinels, objects inside objects. Values are our own.
 */
import type { Row } from './dialect.ts';
import { shapesOf, type Own } from './own-shape.ts';
import { clockFrom, f, n, comma, two } from './shape-values.ts';
import type { FieldShape } from '../score-field.ts';

const clock = clockFrom(9, 10);

const all = (r: Row) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1), air: n(r.air, 1) });
const four = (r: Row, mark = ';'): string => [f(r.o2, 2), f(r.co, 0), f(r.stack, 1), f(r.air, 1)].join(mark);

const tagged: Readonly<Record<number, string>> = {
  37: 'AI1037 flue gas O2 [vol%]',
  38: 'AI1038 flue gas CO [ppm]',
  120: 'TI1120 flue gas temperature [degC]',
  121: 'TI1121 combustion air temperature [degC]',
};

const shapes: Own[] = [
  {
    name: 'German short forms: AT is the flue gas, VT the air',
    expect: 'read',
    why: 'AT is ambient in English and flue gas in German; the values say which',
    head: ['Zeit;O2 %;CO ppm;AT °C;VT °C'],
    row: (r, at) => comma(`${clock(at)};${four(r)}`),
    truth: all,
  },
  {
    name: 'English short forms: AT is the air, FT the flue',
    expect: 'read',
    why: 'the same AT beside a flue temperature',
    head: ['Time,O2 %,CO ppm,FT C,AT C'],
    row: (r, at) => `${clock(at)},${four(r, ',')}`,
    truth: all,
  },
  {
    name: 'German words in full, with the water of the boiler',
    expect: 'read',
    why: 'names and units',
    head: [
      'Datum;Uhrzeit;Restsauerstoff [Vol.-%];Kohlenmonoxid [ppm];Abgastemperatur [°C];Verbrennungslufttemperatur [°C];Kesseltemperatur [°C]',
    ],
    row: (r, at) => comma(`14.11.2031;${clock(at)};${four(r)};${f(61 + at / 30, 1)}`).replaceAll('14,11,2031', '14.11.2031'),
    truth: all,
  },
  {
    name: 'French short forms with draft',
    expect: 'read',
    why: 'T fumées, T amb, Tirage',
    head: ['Heure;O2 (%);CO (ppm);T fumées (°C);T amb (°C);Tirage (Pa)'],
    row: (r, at) => comma(`${clock(at)};${four(r)};-${f(11 + (at % 4) / 10, 1)}`),
    truth: all,
  },
  {
    name: 'Spanish words',
    expect: 'read',
    why: 'oxígeno, monóxido, humos, ambiente',
    head: ['hora,oxígeno %,monóxido de carbono ppm,temp humos C,temp ambiente C'],
    row: (r, at) => `${clock(at)},${four(r, ',')}`,
    truth: all,
  },
  {
    name: 'Italian short forms with efficiency',
    expect: 'read',
    why: 'T fumi, T aria, rendimento',
    head: ['ora;ossigeno [%];CO [ppm];T fumi [°C];T aria [°C];rendimento [%]'],
    row: (r, at) => comma(`${clock(at)};${four(r)};${f(91 - at / 60, 1)}`),
    truth: all,
  },
  {
    name: 'units of O2 and CO stand the wrong way round',
    expect: 'ask',
    why: 'names against units and values',
    head: ['t_s,O2 [ppm],CO [%],flue [C],room [C]'],
    row: (r, at) => `${at},${f(r.co, 0)},${f(r.o2, 2)},${f(r.stack, 1)},${f(r.air, 1)}`,
    truth: all,
  },
  {
    name: 'room and flue stand the wrong way round',
    expect: 'ask',
    why: 'no room is at 200 °C',
    head: ['t_s,O2 [%],CO [ppm],room temp [C],flue temp [C]'],
    row: (r, at) => `${at},${four(r, ',')}`,
    truth: all,
  },
  {
    name: 'limits among the readings, from the second minute on',
    expect: 'ask',
    why: 'another kind of row that comes late',
    head: ['kind;O2 %;CO ppm;Tflue C;Tair C'],
    row: (r, at) => (at > 60 && at % 6 === 0 ? [`M;${four(r)}`, 'L;3.00;100;250.0;30.0'] : `M;${four(r)}`),
    truth: all,
  },
  {
    name: 'a log that announces each value, with the name of a gas in its own prefix',
    expect: 'ask',
    mayRefuse: true,
    why: 'the value is inside a message',
    row: (r, at) =>
      at % 2 === 0
        ? `[${clock(at)}][D][sensor:094]: 'Oxygen': Sending state ${f(r.o2, 5)} % with 1 decimals of accuracy`
        : `[${clock(at)}][D][co_part:07${at % 9}]: 'Flue CO': Sending state ${f(r.co, 5)} ppm with 1 decimals of accuracy`,
    truth: (r, at) => (at % 2 === 0 ? { o2: n(r.o2, 5) } : { co: n(r.co, 5) }),
  },
  {
    name: 'a log with a limit before the reading of the same gas',
    expect: 'read',
    why: 'limit is a key of its own',
    row: (r, at) =>
      `2031-02-03 11:${two(22 + Math.floor(at / 60))}:${two(at % 60)},120 INFO flue.watch: co_limit=100 ppm co=${f(r.co, 0)} ppm o2=${f(r.o2, 2)} %`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },
  {
    name: 'numbers and words for no value in every channel',
    expect: 'read',
    why: '65535, -200, nan and U are no values',
    head: ['sec,o2_pct,co_ppm,stack_c,air_c'],
    row: (r, at) =>
      [
        String(at),
        at % 23 === 9 ? 'nan' : f(r.o2, 2),
        at % 17 === 5 ? '65535' : f(r.co, 0),
        at % 19 === 7 ? '-200.0' : f(r.stack, 1),
        at % 29 === 3 ? 'U' : f(r.air, 1),
      ].join(','),
    truth: (r, at) => ({
      ...(at % 23 === 9 ? {} : { o2: n(r.o2, 2) }),
      ...(at % 17 === 5 ? {} : { co: n(r.co, 0) }),
      ...(at % 19 === 7 ? {} : { stack: n(r.stack, 1) }),
      ...(at % 29 === 3 ? {} : { air: n(r.air, 1) }),
    }),
  },
  {
    name: 'kelvin in the names',
    expect: 'read',
    why: 'T_exhaust K',
    head: ['time s\tO2 vol%\tCO ppm\tT_exhaust K\tT_ambient K'],
    row: (r, at) => `${at}\t${f(r.o2, 2)}\t${f(r.co, 0)}\t${f(r.stack + 273.15, 2)}\t${f(r.air + 273.15, 2)}`,
    truth: (r) => ({ ...all(r), stack: n(r.stack + 273.15, 2) - 273.15, air: n(r.air + 273.15, 2) - 273.15 }),
  },
  {
    name: 'carbon monoxide in per cent beside dioxide in per cent',
    expect: 'read',
    why: 'units in brackets',
    head: ['n;O2 [%];CO [%];CO2 [%];Tgas [degC]'],
    row: (r, at) => `${at};${f(r.o2, 2)};${f(r.co / 10_000, 4)};${f(r.co2, 2)};${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co / 10_000, 4) * 10_000, co2: n(r.co2, 2), stack: n(r.stack, 1) }),
  },
  {
    name: 'dioxide of the flue in ppm',
    expect: 'read',
    why: 'ppm of a hundred thousand',
    head: ['s,O2 %,CO2 ppm,CO ppm,exhaust C'],
    row: (r, at) => `${at},${f(r.o2, 2)},${f(r.co2 * 10_000, 0)},${f(r.co, 0)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co2: n(r.co2 * 10_000, 0) / 10_000, co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'a lambda probe with its heater',
    expect: 'refuse',
    why: 'an air ratio is no gas',
    head: ['t;lambda;U_heater V;Ip mA'],
    row: (r, at) => `${at};${f(20.946 / (20.946 - Math.min(18, r.o2)), 3)};${f(7.1 + (at % 5) / 100, 2)};${f(0.41 + (at % 7) / 100, 2)}`,
  },
  {
    name: 'CR CR LF and blank lines',
    expect: 'read',
    why: 'blank lines end nothing',
    head: ['O2%,COppm,Tst C,Tair C'],
    row: (r, at) => (at % 3 === 0 ? [four(r, ','), ''] : four(r, ',')),
    truth: all,
    end: '\r\r\n',
  },
  {
    name: 'a clock that is set an hour on in the middle',
    expect: 'read',
    why: 'the names say the channels, whatever the clock does',
    head: ['date time,O2 %,CO ppm,flue C,ambient C'],
    row: (r, at) => `2031-11-14 ${two(at > 50 ? 11 : 10)}:${two(Math.floor(at / 60))}:${two(at % 60)},${four(r, ',')}`,
    truth: all,
  },
  {
    name: 'a rig that weighs gases',
    expect: 'refuse',
    why: 'kg/s and g/s are no contents',
    head: ['t s,O2 kg/s,CO g/s,fuel g,HRR kW'],
    row: (r, at) => `${at},${f(r.o2 / 1000, 5)},${f(r.co / 100, 3)},${5000 - at * 3},${120 + (at % 9)}`,
  },
  {
    name: 'monoxide in milligrams, no reference said',
    expect: 'ask',
    why: 'mg/Nm3: reference oxygen is not said',
    head: ['ora;O2 [%];CO [mg/Nm3];T fumi [°C]'],
    row: (r, at) => comma(`${clock(at)};${f(r.o2, 2)};${f(r.co * 1.25, 1)};${f(r.stack, 1)}`),
    truth: (r) => ({ o2: n(r.o2, 2), stack: n(r.stack, 1) }),
  },
  {
    name: 'two oxygen probes in one flue',
    expect: 'ask',
    why: 'which of the two',
    row: (r) => `O2_1=${f(r.o2, 2)}% O2_2=${f(r.o2 + 0.6, 2)}% CO_1=${f(r.co, 0)}ppm Tflue=${f(r.stack, 1)}C`,
    truth: (r) => ({ co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'the flue and the room as objects, each with its monoxide',
    expect: 'read',
    why: 'what is inside "room" is of the room',
    head: ['rst cause:2, boot mode:(3,6)', 'load 0x40078000,len 13232', 'wifi up 192.168.1.77 rssi -61'],
    row: (r, at) =>
      JSON.stringify({
        up: at * 1000,
        flue: { o2: n(r.o2, 2), co: n(r.co, 0), temp: n(r.stack, 1) },
        room: { temp: n(r.air, 1), co: at % 5 },
      }),
    truth: all,
  },
  {
    name: 'oxygen of the flue, monoxide of the room only',
    expect: 'read',
    why: 'no monoxide of the flue is sent',
    row: (r, at) => JSON.stringify({ flue: { o2: n(r.o2, 2), stack_c: n(r.stack, 1) }, room: { co: 2 + (at % 5) } }),
    truth: (r) => ({ o2: n(r.o2, 2), stack: n(r.stack, 1) }),
  },
  {
    name: 'limits as objects beside the readings',
    expect: 'read',
    why: 'a limit is no reading',
    row: (r, at) => JSON.stringify({ limits: { co: 400, o2: 3.0 + (at % 2) / 10 }, co: n(r.co, 0), o2: n(r.o2, 2) }),
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },
  {
    name: 'a plant of three hundred columns with tags, empty at the end',
    expect: 'read',
    why: 'four tags name the flue and the air',
    head: [`Timestamp,${Array.from({ length: 300 }, (_, at) => tagged[at] ?? `TI${1000 + at} bearing temperature [degC]`).join(',')},,`],
    row: (r, at) => {
      const own: Record<number, string> = { 37: f(r.o2, 2), 38: f(r.co, 0), 120: f(r.stack, 1), 121: f(r.air, 1) };
      const cells = Array.from({ length: 300 }, (_, k) => own[k] ?? f(40 + (k % 30) + Math.sin(at / 9 + k), 1));
      return `14/11/2031 ${clock(at)},${cells.join(',')},,`;
    },
    truth: all,
  },
];

export const boilerShapes: FieldShape[] = shapesOf(shapes, 8100);

/**
 * A second set of line shapes, written with their truth before the learner was run on them. Values are our own: a burner that starts,
 * warms up and is set. Encodings, torn lines and header changes stand as bytes.
 */
import type { FieldShape } from '../score-field.ts';

/** one reading: O2 %, CO ppm, CO2 %, stack and air in Celsius, draft in Pa */
type Point = {
  readonly o2: number;
  readonly co: number;
  readonly co2: number;
  readonly stack: number;
  readonly air: number;
  readonly draft: number;
};
type Truth = { readonly o2?: number; readonly co?: number; readonly co2?: number; readonly stack?: number; readonly air?: number };
type Shape = {
  readonly name: string;
  readonly expect: FieldShape['expect'];
  readonly why: string;
  readonly optional?: FieldShape['optional'];
  readonly multi?: boolean;
  readonly mayRefuse?: boolean;
  readonly end?: string;
  readonly encoding?: BufferEncoding;
  readonly bom?: readonly number[];
  /** text and, for the first text line of a reading, its truth */
  readonly lines: () => readonly (string | readonly [string, Truth])[];
};

let state = 1;
function noise(size: number): number {
  state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
  return (state / 2_147_483_648 - 0.5) * 2 * size;
}
const fix = (value: number, digits: number): string => value.toFixed(digits);
const num = (value: number, digits: number): number => Number(value.toFixed(digits));
const comma = (text: string): string => text.replaceAll('.', ',');
const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
const clock = (at: number): string => `08:${two(15 + at / 60)}:${two(at % 60)}`;
const toF = (celsius: number): number => celsius * 1.8 + 32;
const fromF = (text: string): number => (Number(text) - 32) / 1.8;
const fromK = (text: string): number => Number(text) - 273.15;

/** air first, then light-off, then two settings of the air */
function point(at: number): Point {
  const lit = Math.max(0, at - 12);
  const rise = 1 - Math.exp(-lit / 9);
  const set = at > 80 ? 1 - Math.exp(-(at - 80) / 6) : 0;
  const o2 = 20.9 - rise * 14.6 - set * 1.9 + noise(0.06);
  return {
    o2,
    co: Math.max(0, (lit > 0 ? 260 * Math.exp(-lit / 8) + 14 + 9 * set : 0) + noise(1.2)),
    co2: Math.max(0, ((20.9 - o2) * 15.3) / 20.9 + noise(0.05)),
    stack: 31 + 168 * (1 - Math.exp(-lit / 35)) - set * 6 + noise(0.5),
    air: 18.4 + at / 120 + noise(0.1),
    draft: -2 - 11 * rise + noise(0.3),
  };
}
const all = (p: Point): Truth => ({ o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1), air: num(p.air, 1) });
const rows = <T>(make: (p: Point, at: number) => T, count = 130): T[] => Array.from({ length: count }, (_, at) => make(point(at), at));
const xor = (text: string): string =>
  [...text]
    .reduce((sum, one) => sum ^ one.charCodeAt(0), 0)
    .toString(16)
    .toUpperCase()
    .padStart(2, '0');

const shapes: Shape[] = [
  {
    name: 'logger: title, names, units and kinds of mean above',
    expect: 'read',
    why: 'four head rows, quoted; mV and V columns beside',
    lines: () => [
      '"CELLAR","rig 4","program 12","table 1"',
      '"TS","RN","O2_dry","CO_dry","T_flue","T_room","Cell_mV","Batt"',
      '"","","%","ppm","Deg C","Deg C","mV","Volts"',
      '"","","Avg","Avg","Avg","Avg","Smp","Min"',
      ...rows(
        (p, at) =>
          [
            `"2031-03-12 ${clock(at)}",${at + 400},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)},${fix(p.o2 * 0.61, 2)},12.8`,
            all(p),
          ] as const,
      ),
    ],
  },
  {
    name: 'German export: semicolons, decimal commas, empty tail',
    expect: 'read',
    why: 'names and units say it',
    end: '\r\n',
    lines: () => [
      'Datum;Zeit;O2 [%];CO [ppm];Abgastemperatur [°C];Verbrennungslufttemperatur [°C];Zug [Pa];',
      ...rows(
        (p, at) =>
          [
            `12.03.2031;${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)};${fix(p.draft, 1)}`)};`,
            all(p),
          ] as const,
      ),
    ],
  },
  {
    name: 'the same in Latin-1',
    expect: 'read',
    why: 'only the degree sign differs',
    encoding: 'latin1',
    lines: () => [
      'Zeit;Sauerstoff (%);Kohlenmonoxid (ppm);Rauchgastemp. (°C);Lufttemp. (°C)',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
  },
  {
    name: 'French names',
    expect: 'read',
    why: 'names and units say it; ambient may stay out',
    optional: ['air_c'],
    lines: () => [
      'Heure;Oxygène (%);Monoxyde de carbone (ppm);Température des fumées (°C);Température ambiante (°C)',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
  },
  {
    name: 'Spanish pairs with bars and decimal commas',
    expect: 'read',
    why: 'names and units in every line',
    lines: () =>
      rows(
        (p) =>
          [
            comma(`Oxígeno: ${fix(p.o2, 1)} % | CO: ${fix(p.co, 0)} ppm | T. humos: ${fix(p.stack, 1)} °C | T. aire: ${fix(p.air, 1)} °C`)
              .replace('T,', 'T.')
              .replace('T,', 'T.'),
            { ...all(p), o2: num(p.o2, 1) },
          ] as const,
      ),
  },
  {
    name: 'Italian tabs',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      'Ora\tOssigeno %\tCO ppm\tTemp. fumi °C\tTemp. aria comburente °C\tTiraggio Pa',
      ...rows(
        (p, at) =>
          [`${clock(at)}\t${fix(p.o2, 2)}\t${fix(p.co, 0)}\t${fix(p.stack, 1)}\t${fix(p.air, 1)}\t${fix(p.draft, 1)}`, all(p)] as const,
      ),
    ],
  },
  {
    name: 'bottles on a scale: O2, CO and N2 in kilograms',
    expect: 'ask',
    mayRefuse: true,
    why: 'weights that carry names of gases; the room temperature is one',
    lines: () => [
      'time,O2 kg,CO kg,N2 kg,room C',
      ...rows(
        (_, at) => [`${clock(at)},${fix(20.8 - at * 0.03, 2)},${fix(14.2 - at * 0.01, 2)},${fix(33.1 - at * 0.02, 2)},21.4`, {}] as const,
      ),
    ],
  },
  {
    name: 'units swapped: O2 in ppm, CO in per cent',
    expect: 'ask',
    why: 'the header lies: 4.5 ppm of oxygen in flue gas does not exist',
    lines: () => [
      't;O2 [ppm];CO [%];T flue [°C]',
      ...rows(
        (p, at) =>
          [
            `${at};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'names swapped: CO2 and O2 under the wrong heads',
    expect: 'ask',
    why: 'the column named CO2 begins at 20.9 and falls, the one named O2 begins at 0 and rises',
    lines: () => [
      'time,CO2 %,CO ppm,O2 %,flue C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.co2, 2)},${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), co2: num(p.co2, 2), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'names swapped: flue and air temperature under the wrong heads',
    expect: 'ask',
    why: 'the air cannot be at 190 with the flue at 19 for a minute',
    lines: () => [
      'time,O2 %,CO ppm,T air C,T flue C',
      ...rows((p, at) => [`${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`, all(p)] as const),
    ],
  },
  {
    name: 'cells in millivolts and a thermocouple in millivolts',
    expect: 'refuse',
    why: 'no column is a gas yet',
    lines: () => [
      'ms,O2 mV,CO mV,TC mV,ref V',
      ...rows((p, at) => [`${at * 1000},${fix(p.o2 * 0.6, 3)},${fix(12 + p.co * 0.2, 3)},${fix(p.stack * 0.041, 3)},2.5`, {}] as const),
    ],
  },
  {
    name: 'loop currents of the analyser',
    expect: 'refuse',
    why: 'milliamperes with the names of the gases',
    lines: () => [
      'Time;O2 (mA);CO (mA);Stack (mA)',
      ...rows(
        (p, at) =>
          [
            `${clock(at)};${fix(4 + (p.o2 / 25) * 16, 3)};${fix(4 + (p.co / 1000) * 16, 3)};${fix(4 + (p.stack / 400) * 16, 3)}`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'engine bench: lambda, air-fuel ratio, oxygen cell in volts',
    expect: 'refuse',
    why: 'lambda and volts are no oxygen',
    lines: () => [
      'rpm,lambda,afr,o2_v,oil_c,clt_c',
      ...rows(
        (p, at) =>
          [
            `${1400 + at * 3},${fix(20.9 / Math.max(0.5, 20.9 - p.o2), 3)},${fix(14 + p.o2, 2)},${fix(0.1 + p.o2 * 0.03, 3)},${fix(60 + at / 3, 1)},${fix(70 + at / 4, 1)}`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'exhaust of an engine: CO in per cent, oil temperature',
    expect: 'read',
    why: 'CO % vol is converted, oil temperature is no stack',
    lines: () => [
      'Time,CO [%vol],HC [ppm],CO2 [%vol],O2 [%vol],Lambda,n [1/min],T oil [°C]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(0.2 + p.co / 1000, 3)},${fix(40 + p.co / 4, 0)},${fix(p.co2, 2)},${fix(p.o2, 2)},${fix(20.9 / (20.9 - Math.min(20, p.o2)), 3)},${fix(2400 + at, 0)},${fix(70 + at / 5, 1)}`,
            { co: num(0.2 + p.co / 1000, 3) * 10_000, co2: num(p.co2, 2), o2: num(p.o2, 2) },
          ] as const,
      ),
    ],
  },
  {
    name: 'board log with level and tag before the pairs',
    expect: 'read',
    why: 'names and units stand in the line',
    lines: () =>
      rows(
        (p, at) =>
          [
            `I (${12_345 + at * 1000}) flue: o2=${fix(p.o2, 2)}% co=${fix(p.co, 0)}ppm t_flue=${fix(p.stack, 1)}C t_air=${fix(p.air, 1)}C`,
            all(p),
          ] as const,
      ),
  },
  {
    name: 'board log: words between, value after an arrow',
    expect: 'read',
    why: 'names and units stand in the line',
    lines: () =>
      rows(
        (p, at) =>
          [
            `#${at} oxygen -> ${fix(p.o2, 2)} %, carbon monoxide -> ${fix(p.co, 0)} ppm, flue gas temperature -> ${fix(p.stack, 1)} degC`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
  },
  {
    name: 'sentence with unit letters and no names',
    expect: 'ask',
    why: 'per cent, parts and degrees, no word which',
    lines: () =>
      rows((p) => {
        const body = `FGAS,${fix(p.o2, 2)},P,${fix(p.co, 0)},M,${fix(p.stack, 1)},C,${fix(p.air, 1)},C`;
        return [`$${body}*${xor(body)}`, all(p)] as const;
      }),
  },
  {
    name: 'sentence of transducers: value, unit letter, name after it',
    expect: 'ask',
    why: 'names follow the values; the unit of CO is not said',
    lines: () =>
      rows((p) => {
        const body = `YXXDR,P,${fix(p.o2, 2)},P,O2,G,${fix(p.co, 0)},,CO,C,${fix(p.stack, 1)},C,STACK,C,${fix(p.air, 1)},C,AIR`;
        return [`$${body}*${xor(body)}`, all(p)] as const;
      }),
  },
  {
    name: 'nested objects',
    expect: 'read',
    why: 'keys say it, one inside another',
    lines: () =>
      rows(
        (p, at) =>
          [
            JSON.stringify({
              ts: `2031-03-12T${clock(at)}Z`,
              gas: { o2_pct: num(p.o2, 2), co_ppm: num(p.co, 0) },
              temp_c: { flue: num(p.stack, 1), air: num(p.air, 1) },
              n: at,
            }),
            all(p),
          ] as const,
      ),
  },
  {
    name: 'objects with units in the keys, Fahrenheit, null and texts for no value',
    expect: 'read',
    why: 'keys carry units; null and "---" are absent',
    lines: () =>
      rows((p, at) => {
        const gone = at % 17 === 5;
        const words = at % 23 === 7;
        const s = fix(toF(p.stack), 1);
        const r = fix(toF(p.air), 1);
        return [
          `{"o2_pct":${gone ? 'null' : fix(p.o2, 2)},"co_ppm":${words ? '"---"' : fix(p.co, 0)},"co2_pct":${fix(p.co2, 2)},"stack_f":${s},"room_air_f":${r},"uptime_s":${at}}`,
          {
            ...(gone ? {} : { o2: num(p.o2, 2) }),
            ...(words ? {} : { co: num(p.co, 0) }),
            co2: num(p.co2, 2),
            stack: fromF(s),
            air: fromF(r),
          },
        ] as const;
      }),
    optional: ['air_c'],
  },
  {
    name: 'arrays without names',
    expect: 'ask',
    why: 'four numbers, no word which',
    lines: () => rows((p) => [`[${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}]`, all(p)] as const),
  },
  {
    name: 'objects: a list of name, value, unit',
    expect: 'ask',
    why: 'each value with its own name and unit inside',
    lines: () =>
      rows(
        (p) =>
          [
            JSON.stringify({
              values: [
                { n: 'O2', v: num(p.o2, 2), u: '%' },
                { n: 'CO', v: num(p.co, 0), u: 'ppm' },
                { n: 'flue', v: num(p.stack, 1), u: 'C' },
              ],
            }),
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
  },
  {
    name: 'tags around the values',
    expect: 'ask',
    why: 'names and units stand in the tags',
    lines: () =>
      rows(
        (p, at) =>
          [
            `<s t="${at}"><o2 u="%">${fix(p.o2, 2)}</o2><co u="ppm">${fix(p.co, 0)}</co><flue u="C">${fix(p.stack, 1)}</flue></s>`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
  },
  {
    name: 'measurement, tags, fields, nanoseconds',
    expect: 'read',
    why: 'keys say it; tags before them do not matter',
    lines: () =>
      rows(
        (p, at) =>
          [
            `flue,site=cellar,burner=2 o2_pct=${fix(p.o2, 2)},co_ppm=${fix(p.co, 0)}i,t_flue_c=${fix(p.stack, 1)},t_air_c=${fix(p.air, 1)} ${1_931_760_901 + at}000000000`,
            all(p),
          ] as const,
      ),
  },
  {
    name: 'a scrape: one metric a line with help above',
    expect: 'read',
    why: 'names with units, one value a line, five lines a reading',
    multi: true,
    lines: () =>
      rows(
        (p) => [
          ['# HELP flue_oxygen_percent Oxygen, dry', all(p)] as const,
          '# TYPE flue_oxygen_percent gauge',
          `flue_oxygen_percent ${fix(p.o2, 2)}`,
          `flue_carbon_monoxide_ppm ${fix(p.co, 0)}`,
          `flue_temperature_celsius ${fix(p.stack, 1)}`,
          `combustion_air_temperature_celsius ${fix(p.air, 1)}`,
        ],
        90,
      ).flat(),
  },
  {
    name: 'topics, one value a line',
    expect: 'read',
    why: 'the last part of the topic is the name',
    multi: true,
    optional: ['air_c'],
    lines: () =>
      rows(
        (p) => [
          [`cellar/boiler/flue/o2_percent ${fix(p.o2, 2)}`, all(p)] as const,
          `cellar/boiler/flue/co_ppm ${fix(p.co, 0)}`,
          `cellar/boiler/flue/temperature_c ${fix(p.stack, 1)}`,
          `cellar/room/air_temperature_c ${fix(p.air, 1)}`,
        ],
        90,
      ).flat(),
  },
  {
    name: 'system log before the values',
    expect: 'read',
    why: 'names and units stand in the line',
    lines: () =>
      rows(
        (p, at) =>
          [
            `Mar 12 ${clock(at)} cellar gasmon[412]: O2 ${fix(p.o2, 2)} % CO ${fix(p.co, 0)} ppm Tflue ${fix(p.stack, 1)} C Tair ${fix(p.air, 1)} C`,
            all(p),
          ] as const,
      ),
  },
  {
    name: 'register frames in hexadecimal',
    expect: 'refuse',
    why: 'bytes of a bus, no values',
    lines: () =>
      rows(
        (p, at) =>
          [
            `${clock(at)} RX 01 03 08 ${[p.o2 * 100, p.co, p.stack * 10, p.air * 10]
              .map((v) =>
                Math.round(v)
                  .toString(16)
                  .toUpperCase()
                  .padStart(4, '0')
                  .replace(/(..)(..)/, '$1 $2'),
              )
              .join(' ')} ${two(at % 90)} 4C`,
            {},
          ] as const,
      ),
  },
  {
    name: 'registers by number, one a line',
    expect: 'ask',
    mayRefuse: true,
    why: 'numbers of registers and whole numbers, no name',
    multi: true,
    lines: () =>
      rows(
        (p) => [
          [`40001: ${fix(p.o2 * 100, 0)}`, {}] as const,
          `40002: ${fix(p.co, 0)}`,
          `40003: ${fix(p.stack * 10, 0)}`,
          `40004: ${fix(p.air * 10, 0)}`,
        ],
        80,
      ).flat(),
  },
  {
    name: 'hexadecimal values behind the names',
    expect: 'refuse',
    why: 'O2=0182 is 386, not 182; most of them look like plain numbers',
    lines: () =>
      rows(
        (p) =>
          [
            `O2=${Math.round(p.o2 * 100)
              .toString(16)
              .padStart(4, '0')} CO=${Math.round(p.co).toString(16).padStart(4, '0')} T=${Math.round(p.stack * 10)
              .toString(16)
              .padStart(4, '0')}`,
            {},
          ] as const,
      ),
  },
  {
    name: 'hexadecimal with a prefix',
    expect: 'refuse',
    why: 'raw counts in hexadecimal',
    lines: () =>
      rows(
        (p) =>
          [
            `O2 0x${Math.round(p.o2 * 100)
              .toString(16)
              .padStart(4, '0')}, CO 0x${Math.round(p.co).toString(16).padStart(4, '0')}, T 0x${Math.round(p.stack * 10)
              .toString(16)
              .padStart(4, '0')}`,
            {},
          ] as const,
      ),
  },
  {
    name: 'two rows of a small display',
    expect: 'read',
    why: 'names and units stand beside the values, two lines a reading',
    multi: true,
    optional: ['air_c'],
    lines: () =>
      rows(
        (p) => [
          [
            `O2 ${fix(p.o2, 1).padStart(5)}%  CO ${fix(p.co, 0).padStart(4)}ppm`,
            { o2: num(p.o2, 1), co: num(p.co, 0), stack: num(p.stack, 0), air: num(p.air, 0) },
          ] as const,
          `Flue ${fix(p.stack, 0).padStart(3)}C  Room ${fix(p.air, 0).padStart(3)}C`,
        ],
        100,
      ).flat(),
  },
  {
    name: 'heating control in German: set value and actual value of O2',
    expect: 'ask',
    why: 'soll is not measured; ist is',
    lines: () =>
      rows(
        (p, at) =>
          [
            `Tvl=${fix(52 + at / 8, 1)} Trl=${fix(41 + at / 9, 1)} Tabgas=${fix(p.stack, 0)} mod=74% O2soll=4.5% O2ist=${fix(p.o2, 1)}% Gebl=${3100 + at}rpm`,
            { o2: num(p.o2, 1), stack: num(p.stack, 0) },
          ] as const,
      ),
    optional: ['stack_c'],
  },
  {
    name: 'boiler control: set point and actual side by side',
    expect: 'read',
    why: 'one is named set point',
    lines: () => [
      'Time,Boiler °C,Boiler setpoint °C,Flue gas °C,O2 setpoint %,O2 actual %,Fan %,Oil valve %',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(50 + at / 6, 1)},75.0,${fix(p.stack, 1)},4.5,${fix(p.o2, 2)},${fix(50 + at / 10, 0)},${fix(40 + at / 10, 0)}`,
            { o2: num(p.o2, 2), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'plant table: tags, descriptions, units; two boilers',
    expect: 'ask',
    why: 'two flues: which one is ours',
    lines: () => [
      `Tag;${Array.from({ length: 40 }, (_, i) => `21-XT-${100 + i}`).join(';')};21-AT-201;21-AT-202;21-TT-203;22-AT-201;22-AT-202;22-TT-203`,
      `Description;${Array.from({ length: 40 }, (_, i) => `Pump ${i + 1} pressure`).join(';')};Flue gas oxygen boiler 1;Flue gas CO boiler 1;Flue gas temp boiler 1;Flue gas oxygen boiler 2;Flue gas CO boiler 2;Flue gas temp boiler 2`,
      `Unit;${Array.from({ length: 40 }, () => 'bar').join(';')};vol%;ppm;°C;vol%;ppm;°C`,
      ...rows(
        (p, at) =>
          [
            `2031-03-12 ${clock(at)};${Array.from({ length: 40 }, (_, i) => comma(fix(2 + (i % 7) + noise(0.1), 2))).join(';')};${comma([p.o2, p.co, p.stack, p.o2 + 0.7, p.co * 1.4, p.stack + 11].map((v) => fix(v, 2)).join(';'))}`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'plant table: one boiler, description row, CO in mg/m3',
    expect: 'ask',
    why: 'the reference state of mg/m3 is not said',
    lines: () => [
      `Tag;${Array.from({ length: 25 }, (_, i) => `P${100 + i}`).join(';')};A201;A202;T203`,
      `Text;${Array.from({ length: 25 }, (_, i) => `Pressure ${i + 1}`).join(';')};Flue gas oxygen dry;Flue gas carbon monoxide;Flue gas temperature`,
      `;${Array.from({ length: 25 }, () => 'bar').join(';')};vol%;mg/m3;°C`,
      ...rows(
        (p, at) =>
          [
            `2031-03-12 ${clock(at)};${Array.from({ length: 25 }, (_, i) => fix(2 + (i % 7) + noise(0.1), 2)).join(';')};${[p.o2, p.co * 1.25, p.stack].map((v) => fix(v, 2)).join(';')}`,
            { o2: num(p.o2, 2), stack: num(p.stack, 2) },
          ] as const,
      ),
    ],
  },
  {
    name: 'CO as measured and CO at 3 % O2',
    expect: 'read',
    why: 'the corrected one is another quantity',
    lines: () => [
      'Time;O2 [%];CO @ 3% O2 [ppm];CO [ppm];T flue [°C];T air [°C];O2 ref [%]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)};${fix(p.o2, 2)};${fix((p.co * 17.9) / Math.max(0.4, 20.9 - p.o2), 0)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)};3.0`,
            all(p),
          ] as const,
      ),
    ],
  },
  {
    name: 'CO air-free only',
    expect: 'ask',
    why: 'O2 and temperature are sure; air-free is not CO as measured',
    lines: () => [
      'Time;O2 [%];CO air free [ppm];T flue [°C]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)};${fix(p.o2, 2)};${fix((p.co * 20.9) / Math.max(0.4, 20.9 - p.o2), 0)};${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'net temperature and ambient',
    expect: 'ask',
    why: 'net is not the stack',
    lines: () => [
      'Time,O2 %,CO ppm,T net C,T ambient C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack - p.air, 1)},${fix(p.air, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), air: num(p.air, 1) },
          ] as const,
      ),
    ],
    optional: ['air_c'],
  },
  {
    name: 'room air station: CO2 in ppm, humidity, dust',
    expect: 'ask',
    why: 'room air, no flue; CO2 ppm may be taken as such',
    optional: ['co2_pct', 'air_c'],
    lines: () => [
      'time,CO2 [ppm],PM2.5 [ug/m3],TVOC [ppb],T [C],RH [%]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${420 + at * 3},${fix(8 + noise(1), 1)},${110 + at},${fix(p.air, 1)},${fix(20.4 + noise(0.3), 1)}`,
            { co2: (420 + at * 3) / 10_000, air: num(p.air, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'room alarm: CO of the room now and at most',
    expect: 'ask',
    mayRefuse: true,
    why: 'room CO is not flue CO',
    lines: () => [
      'time,ambient CO ppm,peak CO ppm,battery %',
      ...rows((_, at) => [`${clock(at)},${Math.floor(at / 20)},${Math.floor(at / 18)},${98 - Math.floor(at / 60)}`, {}] as const),
    ],
  },
  {
    name: 'oxygen partial pressure and three cells',
    expect: 'refuse',
    why: 'bar and millivolts',
    lines: () => [
      't,PO2 bar,cell1 mV,cell2 mV,cell3 mV,set bar',
      ...rows(
        (_, at) =>
          [
            `${at},${fix(0.7 + noise(0.02), 2)},${fix(46 + noise(0.4), 1)},${fix(47 + noise(0.4), 1)},${fix(45 + noise(0.4), 1)},0.70`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'dissolved oxygen in water',
    expect: 'refuse',
    why: 'mg/L and saturation are no flue gas',
    lines: () => [
      'Time,DO mg/L,O2 sat %,Water temp C,pH',
      ...rows(
        (_, at) =>
          [
            `${clock(at)},${fix(8.4 + noise(0.2), 2)},${fix(91 + noise(1), 1)},${fix(14 + noise(0.1), 1)},${fix(7.1 + noise(0.05), 2)}`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'pulse and saturation of blood',
    expect: 'refuse',
    why: 'SpO2 is no flue gas',
    lines: () =>
      rows(
        (_, at) => [`SpO2 ${fix(96 + noise(1.5), 0)} % HR ${fix(72 + noise(4), 0)} PI ${fix(4.2 + noise(0.4), 1)} n ${at}`, {}] as const,
      ),
  },
  {
    name: 'metals in water: Co is cobalt',
    expect: 'refuse',
    why: 'mg/l',
    lines: () => [
      'sample;Fe mg/l;Co mg/l;Ni mg/l;Cu mg/l',
      ...rows(
        (_, at) =>
          [`${at};${fix(3 + noise(1), 2)};${fix(12 + noise(4), 2)};${fix(2 + noise(1), 2)};${fix(1 + noise(0.5), 2)}`, {}] as const,
      ),
    ],
  },
  {
    name: 'addresses with CO as a state',
    expect: 'refuse',
    why: 'words',
    lines: () => rows((_, at) => [`${at + 100} Mill Road, Oakfield, CO 80${two(at % 90)}${at % 10}, route ${at % 7}`, {}] as const),
  },
  {
    name: 'emission per work: CO in g/kWh',
    expect: 'refuse',
    why: 'not a share of the gas',
    lines: () => [
      'cycle;CO g/kWh;NOx g/kWh;CO2 g/kWh;power kW',
      ...rows(
        (p, at) =>
          [`${at};${fix(0.4 + p.co / 200, 2)};${fix(1.1 + noise(0.2), 2)};${fix(612 + noise(8), 0)};${fix(20 + noise(1), 1)}`, {}] as const,
      ),
    ],
  },
  {
    name: 'Kelvin with units',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      't [s],O2 [vol%],CO [ppmv],T_exhaust [K],T_intake_air [K]',
      ...rows((p, at) => {
        const s = fix(p.stack + 273.15, 2);
        const a = fix(p.air + 273.15, 2);
        return [
          `${at},${fix(p.o2, 3)},${fix(p.co, 1)},${s},${a}`,
          { o2: num(p.o2, 3), co: num(p.co, 1), stack: fromK(s), air: fromK(a) },
        ] as const;
      }),
    ],
  },
  {
    name: 'Kelvin without units',
    expect: 'ask',
    why: 'the air at 291 says Kelvin',
    lines: () => [
      'O2;CO;T_flue;T_air',
      ...rows((p) => {
        const s = fix(p.stack + 273.15, 1);
        const a = fix(p.air + 273.15, 1);
        return [
          `${fix(p.o2, 2)};${fix(p.co, 0)};${s};${a}`,
          { o2: num(p.o2, 2), co: num(p.co, 0), stack: fromK(s), air: fromK(a) },
        ] as const;
      }),
    ],
  },
  {
    name: 'Fahrenheit without units',
    expect: 'ask',
    why: 'air at 65 may be either for a program; a person knows',
    lines: () => [
      'O2;CO;T_flue;T_air',
      ...rows((p) => {
        const s = fix(toF(p.stack), 1);
        const a = fix(toF(p.air), 1);
        return [
          `${fix(p.o2, 2)};${fix(p.co, 0)};${s};${a}`,
          { o2: num(p.o2, 2), co: num(p.co, 0), stack: fromF(s), air: fromF(a) },
        ] as const;
      }),
    ],
  },
  {
    name: 'sentinels: -999, 9999, OFL, --- and blank',
    expect: 'read',
    why: 'no value is no value',
    lines: () => [
      'time,O2 %,CO ppm,Flue C,Air C',
      ...rows((p, at) => {
        const o2 = at % 19 === 4 ? '-999' : fix(p.o2, 2);
        const co = at % 23 === 6 ? 'OFL' : at % 29 === 7 ? '9999' : fix(p.co, 0);
        const flue = at % 31 === 8 ? '---' : fix(p.stack, 1);
        const air = at % 37 === 9 ? '' : fix(p.air, 1);
        return [
          `${clock(at)},${o2},${co},${flue},${air}`,
          {
            ...(o2 === '-999' ? {} : { o2: num(p.o2, 2) }),
            ...(/OFL|9999/.test(co) ? {} : { co: num(p.co, 0) }),
            ...(flue === '---' ? {} : { stack: num(p.stack, 1) }),
            ...(air === '' ? {} : { air: num(p.air, 1) }),
          },
        ] as const;
      }),
    ],
  },
  {
    name: 'sentinels of sensors: -127 for no probe, 3276.7 for an open wire',
    expect: 'read',
    why: 'an open probe is no temperature',
    lines: () => [
      'time;O2 %;CO ppm;Stack C;Supply air C',
      ...rows((p, at) => {
        const gone = at % 13 === 4;
        const open = at % 21 === 6;
        return [
          `${clock(at)};${fix(p.o2, 2)};${fix(p.co, 0)};${open ? '3276.7' : fix(p.stack, 1)};${gone ? '-127.0' : fix(p.air, 1)}`,
          { o2: num(p.o2, 2), co: num(p.co, 0), ...(open ? {} : { stack: num(p.stack, 1) }), ...(gone ? {} : { air: num(p.air, 1) }) },
        ] as const;
      }),
    ],
  },
  {
    name: 'the clock is put back an hour in the middle',
    expect: 'read',
    why: 'names and units say it; the clock is said',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C,Room air C',
      ...rows(
        (p, at) =>
          [
            `${at < 60 ? clock(at) : clock(at).replace('08', '07')},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`,
            all(p),
          ] as const,
      ),
    ],
    optional: ['air_c'],
  },
  {
    name: 'the head comes again with the columns in another order',
    expect: 'ask',
    why: 'after a restart the columns stand elsewhere',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C,Air C',
      ...rows((p, at) => [`${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`, all(p)] as const, 70),
      'Time,CO ppm,O2 %,Air C,Stack C',
      ...rows((p, at) => [`${clock(at + 70)},${fix(p.co, 0)},${fix(p.o2, 2)},${fix(p.air, 1)},${fix(p.stack, 1)}`, all(p)] as const, 70),
    ],
  },
  {
    name: 'the head comes again with one more column in front',
    expect: 'ask',
    why: 'after a restart the columns have moved by one',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
        70,
      ),
      'Time,CO2 %,O2 %,CO ppm,Stack C',
      ...rows(
        (p, at) =>
          [
            `${clock(at + 70)},${fix(p.co2, 2)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)}`,
            { co2: num(p.co2, 2), o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
        70,
      ),
    ],
    optional: ['co2_pct'],
  },
  {
    name: 'the unit changes in the middle: Celsius, then Fahrenheit',
    expect: 'ask',
    why: 'somebody pressed the unit key',
    lines: () =>
      rows((p, at) => {
        const s = fix(at < 70 ? p.stack : toF(p.stack), 1);
        return [
          `O2 ${fix(p.o2, 1)}% CO ${fix(p.co, 0)}ppm Flue ${s}${at < 70 ? 'C' : 'F'}`,
          { o2: num(p.o2, 1), co: num(p.co, 0), stack: at < 70 ? Number(s) : fromF(s) },
        ] as const;
      }),
  },
  {
    name: 'the CO scale changes by itself: ppm, then per cent',
    expect: 'ask',
    why: 'over 200 ppm this one writes per cent',
    lines: () =>
      rows((p) => {
        const isHigh = p.co > 60;
        const co = isHigh ? fix(p.co / 10_000, 4) : fix(p.co, 0);
        return [
          `O2 ${fix(p.o2, 1)} %; CO ${co} ${isHigh ? '%' : 'ppm'}; flue ${fix(p.stack, 0)} C`,
          { o2: num(p.o2, 1), co: isHigh ? Number(co) * 10_000 : Number(co), stack: num(p.stack, 0) },
        ] as const;
      }),
  },
  {
    name: 'torn lines: one in twelve cut, the next one glued to it',
    expect: 'read',
    why: 'the whole lines are clear',
    lines: () => [
      'Time;O2 %;CO ppm;Stack C;Room C',
      ...rows((p, at) => {
        const text = `${clock(at)};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`;
        return at % 12 === 7 ? `${text.slice(0, 9 + (at % 8))}${text}` : ([text, all(p)] as const);
      }),
    ],
    optional: ['air_c'],
  },
  {
    name: 'pairs as columns with a sum behind',
    expect: 'read',
    why: 'each name stands before its value',
    lines: () =>
      rows((p) => {
        const body = `O2;${fix(p.o2, 2)};CO;${fix(p.co, 0)};TFLUE;${fix(p.stack, 1)};TAIR;${fix(p.air, 1)};`;
        return [`;${body}*${xor(body)}`, all(p)] as const;
      }),
  },
  {
    name: 'names and values by turns, short temperatures',
    expect: 'ask',
    why: 'FT and AT are short for more than one thing',
    lines: () =>
      rows(
        (p) =>
          [
            `O2 ${fix(p.o2, 2)} CO ${fix(p.co, 0)} CO2 ${fix(p.co2, 2)} FT ${fix(p.stack, 1)} AT ${fix(p.air, 1)} EFF ${fix(88 + noise(0.5), 1)}`,
            { ...all(p), co2: num(p.co2, 2) },
          ] as const,
      ),
  },
  {
    name: 'fixed width with units and a rule beneath the names',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      '  Time      O2     CO    CO2   Stack  Supply air',
      '             %    ppm      %    degF    degF',
      '--------  -----  -----  -----  ------  ------',
      ...rows((p, at) => {
        const s = fix(toF(p.stack), 1);
        const a = fix(toF(p.air), 1);
        return [
          `${clock(at)}  ${fix(p.o2, 1).padStart(5)}  ${fix(p.co, 0).padStart(5)}  ${fix(p.co2, 1).padStart(5)}  ${s.padStart(6)}  ${a.padStart(6)}`,
          { o2: num(p.o2, 1), co: num(p.co, 0), co2: num(p.co2, 1), stack: fromF(s), air: fromF(a) },
        ] as const;
      }),
    ],
    optional: ['air_c'],
  },
  {
    name: 'decimal commas in quotes between commas',
    expect: 'read',
    why: 'quotes keep the decimal comma',
    lines: () => [
      '"Zeit","O2 %","CO ppm","Abgas °C","Luft °C"',
      ...rows(
        (p, at) =>
          [
            `"${clock(at)}","${comma(fix(p.o2, 2))}","${fix(p.co, 0)}","${comma(fix(p.stack, 1))}","${comma(fix(p.air, 1))}"`,
            all(p),
          ] as const,
      ),
    ],
  },
  {
    name: 'thousands with a point, decimals with a comma',
    expect: 'read',
    why: 'CO 1.204 beside 187,4 is twelve hundred and four',
    lines: () => [
      'Zeit;O2 %;CO ppm;Abgas °C',
      ...rows((p, at) => {
        const co = num(p.co * 6, 0);
        return [
          `${clock(at)};${comma(fix(p.o2, 2))};${co >= 1000 ? `${Math.floor(co / 1000)}.${String(co % 1000).padStart(3, '0')}` : String(co)};${comma(fix(p.stack, 1))}`,
          { o2: num(p.o2, 2), co, stack: num(p.stack, 1) },
        ] as const;
      }),
    ],
  },
  {
    name: 'thousands with a comma in quotes',
    expect: 'read',
    why: '"1,204" is twelve hundred and four',
    lines: () => [
      'Time,O2 %,CO ppm,Stack °F',
      ...rows((p, at) => {
        const co = num(p.co * 6, 0);
        const s = fix(toF(p.stack), 0);
        return [
          `${clock(at)},${fix(p.o2, 1)},${co >= 1000 ? `"${Math.floor(co / 1000)},${String(co % 1000).padStart(3, '0')}"` : String(co)},${s}`,
          { o2: num(p.o2, 1), co, stack: fromF(s) },
        ] as const;
      }),
    ],
  },
  {
    name: 'clock with AM and PM, date in front',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      'Date,Time,O2 (%),CO (ppm),Stack Temp (F),Supply Air Temp (F)',
      ...rows((p, at) => {
        const s = fix(toF(p.stack), 0);
        const a = fix(toF(p.air), 0);
        return [
          `03/12/2031,${11 + (at >= 60 ? 1 : 0)}:${two(at < 60 ? 59 : (at - 60) / 60)}:${two(at % 60)} ${at >= 60 ? 'PM' : 'AM'},${fix(p.o2, 1)},${fix(p.co, 0)},${s},${a}`,
          { o2: num(p.o2, 1), co: num(p.co, 0), stack: fromF(s), air: fromF(a) },
        ] as const;
      }),
    ],
    optional: ['air_c'],
  },
  {
    name: 'milliseconds since 1970, no names',
    expect: 'ask',
    why: 'four numbers, no word which',
    lines: () =>
      rows(
        (p, at) =>
          [`${1_931_760_901_000 + at * 1000},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`, all(p)] as const,
      ),
  },
  {
    name: 'units in every cell, no names',
    expect: 'ask',
    why: 'per cent of what',
    lines: () =>
      rows(
        (p, at) => [`${clock(at)}, ${fix(p.o2, 2)} %, ${fix(p.co, 0)} ppm, ${fix(p.stack, 1)} °C, ${fix(p.air, 1)} °C`, all(p)] as const,
      ),
  },
  {
    name: 'two per cent columns without names, one rises as the other falls',
    expect: 'ask',
    mayRefuse: true,
    why: 'O2 or CO2: per cent of what',
    lines: () =>
      rows(
        (p, at) =>
          [
            `${clock(at)}\t${fix(p.co2, 1)}%\t${fix(p.o2, 1)}%\t${fix(p.co, 0)}ppm`,
            { o2: num(p.o2, 1), co2: num(p.co2, 1), co: num(p.co, 0) },
          ] as const,
      ),
  },
  {
    name: 'small figures in the names, with a mark of order in front',
    expect: 'read',
    why: 'O₂ and CO₂ are ordinary writing',
    bom: [0xef, 0xbb, 0xbf],
    lines: () => [
      'Time,O₂ [%],CO [ppm],CO₂ [%],ϑ flue [°C]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.co2, 2)},${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), co2: num(p.co2, 2), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
    optional: ['stack_c'],
  },
  {
    name: 'sixteen bits a character, tabs, from a spreadsheet',
    expect: 'refuse',
    why: 'not one byte a character',
    encoding: 'utf16le',
    bom: [0xff, 0xfe],
    lines: () => [
      'Time\tO2 %\tCO ppm\tStack C',
      ...rows((p, at) => [`${clock(at)}\t${fix(p.o2, 2)}\t${fix(p.co, 0)}\t${fix(p.stack, 1)}`, {}] as const),
    ],
  },
  {
    name: 'coefficients of the cells and raw counts',
    expect: 'refuse',
    why: 'coefficients and counts are no gas',
    lines: () => [
      'CAL,O2,0.0123,-1.204,20.9',
      'CAL,CO,0.4410,-3.100,100',
      'CAL,T,0.0250,-50.0,150',
      ...rows((p, at) => [`RAW,${at},${fix(1700 + p.o2 * 80, 0)},${fix(120 + p.co * 2, 0)},${fix(2000 + p.stack * 40, 0)}`, {}] as const),
    ],
  },
  {
    name: 'coefficients as comments, then values by name',
    expect: 'read',
    why: 'the values are named and carry units',
    lines: () => [
      '# cal O2 gain=1.0213 offset=-0.12 CO gain=0.981 offset=3',
      '# cal T gain=1.000 offset=-0.4',
      ...rows((p) => [`O2=${fix(p.o2, 2)}%,CO=${fix(p.co, 0)}ppm,TFLUE=${fix(p.stack, 1)}C,TAIR=${fix(p.air, 1)}C`, all(p)] as const),
    ],
  },
  {
    name: 'coefficient rows of the same width between names and values',
    expect: 'read',
    why: 'gain and offset rows are marked as such',
    lines: () => [
      'name;O2;CO;flue;air',
      'unit;%;ppm;°C;°C',
      'gain;1.0213;0.9810;1.0000;1.0000',
      'offset;-0.12;3.00;-0.40;0.10',
      ...rows((p, at) => [`${clock(at)};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`, all(p)] as const),
    ],
  },
  {
    name: 'state words before the values; values of bad state are not used',
    expect: 'read',
    why: 'names above; WARM rows may stay out',
    lines: () => [
      'State;O2 %;CO ppm;Flue °C;Air °C',
      ...rows(
        (p, at) => [`${at < 6 ? 'WARM' : 'OK'};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`, all(p)] as const,
      ),
    ],
  },
  {
    name: 'two instruments on one wire, A and B by turns',
    expect: 'ask',
    why: 'A is in the flue, B in the room: never one run',
    lines: () =>
      rows(
        (p) => [
          [`A: O2 ${fix(p.o2, 1)} % CO ${fix(p.co, 0)} ppm`, { o2: num(p.o2, 1), co: num(p.co, 0) }] as const,
          [`B: O2 20.9 % CO ${fix(Math.abs(noise(2)), 0)} ppm`, {}] as const,
        ],
        80,
      ).flat(),
  },
  {
    name: 'two probes under one name, number in a column',
    expect: 'ask',
    why: 'probe 1 is the flue, probe 2 the room',
    lines: () => [
      'probe,O2 %,CO ppm,T C',
      ...rows(
        (p) => [
          [`1,${fix(p.o2, 1)},${fix(p.co, 0)},${fix(p.stack, 1)}`, { o2: num(p.o2, 1), co: num(p.co, 0), stack: num(p.stack, 1) }] as const,
          [`2,20.9,${fix(Math.abs(noise(2)), 0)},${fix(p.air, 1)}`, {}] as const,
        ],
        80,
      ).flat(),
    ],
  },
  {
    name: 'wet oxygen only',
    expect: 'ask',
    why: 'a wet share is not a dry one',
    lines: () => [
      'Time;O2 wet [%];T flue [°C]',
      ...rows((p, at) => [`${clock(at)};${fix(p.o2 * 0.9, 2)};${fix(p.stack, 1)}`, { stack: num(p.stack, 1) }] as const),
    ],
    optional: ['stack_c'],
  },
  {
    name: 'least, greatest, mean and last of every gas',
    expect: 'ask',
    why: 'which of four',
    lines: () => [
      'Time,O2 min %,O2 max %,O2 mean %,O2 last %,CO min ppm,CO max ppm,CO mean ppm,CO last ppm',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${[p.o2 - 0.1, p.o2 + 0.1, p.o2 + 0.01, p.o2].map((v) => fix(v, 2)).join(',')},${[p.co - 1, p.co + 2, p.co + 0.4, p.co].map((v) => fix(Math.max(0, v), 1)).join(',')}`,
            { o2: num(p.o2, 2), co: num(p.co, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'flags and alarms that carry the names of the gases',
    expect: 'read',
    why: 'flags, limits and statuses are no values',
    lines: () => [
      'Time,O2_ok,O2_pct,O2_alarm,CO_ok,CO_ppm,CO_alarm,CO_limit,T_stack_degC',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},1,${fix(p.o2, 2)},0,${at % 40 === 3 ? 0 : 1},${fix(p.co, 0)},${p.co > 200 ? 1 : 0},200,${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'oxygen deficit and oxygen trim',
    expect: 'ask',
    why: 'a difference and a position are no share of the gas; the temperature is sure',
    lines: () => [
      'Time;O2 deviation %;O2 trim %;Flue gas °C',
      ...rows(
        (p, at) => [`${clock(at)};${fix(p.o2 - 4.5, 2)};${fix(50 + noise(5), 1)};${fix(p.stack, 1)}`, { stack: num(p.stack, 1) }] as const,
      ),
    ],
    optional: ['stack_c'],
  },
  {
    name: 'a mixer of gases: set flows in l/min',
    expect: 'refuse',
    why: 'flows of gases by name',
    lines: () => [
      't_s,O2 [l/min],CO [ml/min],CO2 [l/min],N2 [l/min]',
      ...rows(
        (_, at) =>
          [
            `${at},${fix(4.5 + noise(0.02), 2)},${fix(23 + noise(0.2), 1)},${fix(12 + noise(0.02), 2)},${fix(60 + noise(0.1), 1)}`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'fuel cell: currents, hydrogen, oxygen bar',
    expect: 'refuse',
    why: 'pressures of gases by name',
    lines: () =>
      rows(
        (_, at) =>
          [
            `H2=${fix(1.4 + noise(0.02), 2)}bar O2=${fix(1.2 + noise(0.02), 2)}bar I=${fix(40 + noise(1), 1)}A U=${fix(32 + noise(0.3), 1)}V T=${fix(61 + at / 60, 1)}C`,
            {},
          ] as const,
      ),
  },
  {
    name: 'solar and heating: flow, return, collector',
    expect: 'refuse',
    why: 'temperatures of water, no flue',
    lines: () => [
      'Zeit;Kollektor °C;Vorlauf °C;Rücklauf °C;Speicher °C;Pumpe %',
      ...rows(
        (_, at) =>
          [
            `${clock(at)};${fix(64 + noise(0.5), 1)};${fix(55 + noise(0.5), 1)};${fix(41 + noise(0.5), 1)};${fix(49 + at / 60, 1)};${40 + (at % 20)}`,
            {},
          ] as const,
      ),
    ],
  },
  {
    name: 'Dutch names',
    expect: 'ask',
    why: 'another language; the formulas and units say the gases',
    lines: () => [
      'Tijd;O2 [%];CO [ppm];Rookgastemperatuur [°C];Luchttemperatuur [°C]',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
    optional: ['stack_c', 'air_c'],
  },
  {
    name: 'Polish words only',
    expect: 'ask',
    why: 'another language; a person knows',
    lines: () => [
      'czas;tlen %;tlenek węgla ppm;spaliny °C;powietrze °C',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
  },
  {
    name: 'scaled whole numbers with the factor in the name',
    expect: 'ask',
    why: 'O2 x100: 452 is 4.52',
    lines: () => [
      't,O2_x100,CO_x1,Tflue_x10,Tair_x10',
      ...rows(
        (p, at) =>
          [
            `${at},${fix(p.o2 * 100, 0)},${fix(p.co, 0)},${fix(p.stack * 10, 0)},${fix(p.air * 10, 0)}`,
            { o2: num(p.o2 * 100, 0) / 100, co: num(p.co, 0), stack: num(p.stack * 10, 0) / 10, air: num(p.air * 10, 0) / 10 },
          ] as const,
      ),
    ],
  },
  {
    name: 'unit with a factor: 0.1 %, 0.1 °C',
    expect: 'ask',
    why: 'the unit row gives tenths',
    lines: () => [
      't;O2;CO;flue',
      's;0.1 %;ppm;0.1 °C',
      ...rows(
        (p, at) =>
          [
            `${at};${fix(p.o2 * 10, 0)};${fix(p.co, 0)};${fix(p.stack * 10, 0)}`,
            { o2: num(p.o2 * 10, 0) / 10, co: num(p.co, 0), stack: num(p.stack * 10, 0) / 10 },
          ] as const,
      ),
    ],
  },
  {
    name: 'values in powers of ten',
    expect: 'read',
    why: 'ordinary writing of numbers',
    lines: () => [
      'time_s O2_% CO_ppm T_flue_C',
      ...rows((p, at) => {
        const t = [p.o2, Math.max(0.5, p.co), p.stack].map((v) => v.toExponential(4));
        return [`${at.toExponential(3)} ${t.join(' ')}`, { o2: Number(t[0]), co: Number(t[1]), stack: Number(t[2]) }] as const;
      }),
    ],
  },
  {
    name: 'signs and leading zeros in fixed places',
    expect: 'read',
    why: 'nothing but a sign is between name and value, and a unit behind it',
    lines: () =>
      rows(
        (p) =>
          [
            `O2+${fix(p.o2, 2).padStart(6, '0')}%CO+${fix(p.co, 0).padStart(5, '0')}ppmTF+${fix(p.stack, 1).padStart(6, '0')}C`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
    optional: ['stack_c'],
  },
  {
    name: 'counter that wraps and a constant beside O2 alone',
    expect: 'read',
    why: 'O2 alone is a fine run',
    lines: () => [
      'seq,serial,oxygen_percent_dry,status',
      ...rows((p, at) => [`${(at * 5) % 256},40117,${fix(p.o2, 2)},0`, { o2: num(p.o2, 2) }] as const),
    ],
  },
  {
    name: 'efficiency, losses and dew point beside the measured ones',
    expect: 'read',
    why: 'computed figures are other quantities',
    lines: () => [
      'Time;T flue °C;T air °C;O2 %;CO2 %;CO ppm;qA %;eta %;lambda;dew point °C;draft hPa',
      ...rows(
        (p, at) =>
          [
            `${clock(at)};${fix(p.stack, 1)};${fix(p.air, 1)};${fix(p.o2, 1)};${fix(p.co2, 1)};${fix(p.co, 0)};${fix(7 + noise(0.2), 1)};${fix(93 + noise(0.2), 1)};${fix(20.9 / Math.max(1, 20.9 - p.o2), 2)};46.2;${fix(p.draft / 100, 3)}`,
            { o2: num(p.o2, 1), co: num(p.co, 0), co2: num(p.co2, 1), stack: num(p.stack, 1), air: num(p.air, 1) },
          ] as const,
      ),
    ],
  },
  {
    name: 'a printout: one name and value a line, ruled sheets',
    expect: 'read',
    why: 'each line has name, value and unit; a rule between readings',
    multi: true,
    optional: ['air_c'],
    lines: () =>
      rows(
        (p, at) => [
          ['--------------------', all(p)] as const,
          `Time       ${clock(at)}`,
          `O2         ${fix(p.o2, 2).padStart(6)} %`,
          `CO         ${fix(p.co, 0).padStart(6)} ppm`,
          `Flue temp  ${fix(p.stack, 1).padStart(6)} °C`,
          `Air temp   ${fix(p.air, 1).padStart(6)} °C`,
          '',
        ],
        80,
      ).flat(),
  },
  {
    name: 'the same value twice a line: raw and averaged in brackets',
    expect: 'ask',
    why: 'which of the two',
    lines: () =>
      rows(
        (p) =>
          [
            `O2 ${fix(p.o2, 2)} (${fix(p.o2 + 0.02, 2)}) % CO ${fix(p.co, 0)} (${fix(p.co + 1, 0)}) ppm`,
            { o2: num(p.o2, 2), co: num(p.co, 0) },
          ] as const,
      ),
  },
  {
    name: 'soot probe: O2 column is empty until the probe is in',
    expect: 'read',
    why: 'absent first, then there',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${at < 30 ? '' : fix(p.o2, 2)},${at < 30 ? '' : fix(p.co, 0)},${fix(p.stack, 1)}`,
            { ...(at < 30 ? {} : { o2: num(p.o2, 2), co: num(p.co, 0) }), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
];

const names = ['o2', 'co', 'co2', 'stack', 'air'] as const;

export const wireShapes: readonly FieldShape[] = shapes.map((shape, place) => {
  state = place + 17;
  const lines = shape.lines();
  const found: (readonly (number | null)[])[] = [];
  const texts = lines.map((one, at) => {
    if (typeof one === 'string') return one;
    const [text, truth] = one;
    if (shape.expect !== 'refuse') found.push([at + 1, ...names.map((name) => truth[name] ?? null)]);
    return text;
  });
  const body = Buffer.from(`${texts.join(shape.end ?? '\n')}${shape.end ?? '\n'}`, shape.encoding ?? 'utf8');
  return {
    name: shape.name,
    expect: shape.expect,
    why: shape.why,
    optional: shape.optional ?? [],
    multi: shape.multi ?? false,
    mayRefuse: shape.mayRefuse,
    rows: found,
    bytes: Buffer.concat([Buffer.from(shape.bom ?? []), body]),
  };
});

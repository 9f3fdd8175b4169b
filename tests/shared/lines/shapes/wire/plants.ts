/** Boilers and plants, gases that are not flue gas, and temperatures in Kelvin and Fahrenheit. */
import { type Shape, noise, two, clock, fromF, all, rows } from './shape.ts';
import { f as fix, n as num, comma, toF } from '../shape-values.ts';

const fromK = (text: string): number => Number(text) - 273.15;

export const plants: Shape[] = [
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
];

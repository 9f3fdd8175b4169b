/** How a wire shape is written down, and the readings its lines are made of. */
import type { FieldShape } from '../../score-field.ts';
import { n as num } from '../shape-values.ts';

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
export type Shape = {
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
/** Each shape has a noise of its own, whatever came before it. */
export function startNoiseAt(place: number): void {
  state = place;
}
export function noise(size: number): number {
  state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
  return (state / 2_147_483_648 - 0.5) * 2 * size;
}
export const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
export const clock = (at: number): string => `08:${two(15 + at / 60)}:${two(at % 60)}`;
export const fromF = (text: string): number => (Number(text) - 32) / 1.8;
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
export const all = (p: Point): Truth => ({ o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1), air: num(p.air, 1) });
export const rows = <T>(make: (p: Point, at: number) => T, count = 130): T[] =>
  Array.from({ length: count }, (_, at) => make(point(at), at));

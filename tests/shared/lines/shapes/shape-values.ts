/** How line shapes write their values. */
import type { Row } from './dialect.ts';

export const f = (value: number, digits: number): string => value.toFixed(digits);
export const n = (value: number, digits: number): number => Number(value.toFixed(digits));
export const comma = (text: string): string => text.replaceAll('.', ',');
export const two = (value: number): string => String(value).padStart(2, '0');
/** The time of day `at` seconds after a full minute. */
export const clockFrom =
  (hour: number, minute: number) =>
  (at: number): string =>
    `${two(hour)}:${two(minute + Math.floor(at / 60))}:${two(at % 60)}`;
export const wander = (at: number, low: number, high: number, period = 37): number =>
  low + ((high - low) * (1 + Math.sin(at / period))) / 2;
export const toF = (celsius: number): number => celsius * 1.8 + 32;
export const fromF = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;
export const all = (r: Row) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1), air: n(r.air, 1) });
/** The exclusive or of all characters, two hexadecimal digits. */
export const xor = (text: string): string =>
  [...text]
    .reduce((sum, one) => sum ^ one.charCodeAt(0), 0)
    .toString(16)
    .toUpperCase()
    .padStart(2, '0');

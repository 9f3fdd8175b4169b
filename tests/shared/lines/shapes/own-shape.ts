/** How a shape of our own is written down. */
import { burnerRows, seeded } from './corpus.ts';
import type { Row } from './dialect.ts';
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

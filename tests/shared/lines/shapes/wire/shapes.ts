/**
 * A second set of line shapes, written with their truth before the learner was run on them. Values are our own: a burner that starts,
 * warms up and is set. Encodings, torn lines and header changes stand as bytes.
 */
import type { FieldShape } from '../../score-field.ts';
import { startNoiseAt, type Shape } from './shape.ts';
import { tables } from './tables.ts';
import { messages } from './messages.ts';
import { plants } from './plants.ts';
import { disturbed } from './disturbed.ts';
import { coefficients } from './coefficients.ts';
import { otherQuantities } from './other-quantities.ts';

const shapes: Shape[] = [...tables, ...messages, ...plants, ...disturbed, ...coefficients, ...otherQuantities];

const names = ['o2', 'co', 'co2', 'stack', 'air'] as const;
export const wireShapes: readonly FieldShape[] = shapes.map((shape, place) => {
  startNoiseAt(place + 17);
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

/**
 * A further set of strange line shapes, written with their truth before the learner was run on them: glued signs and units, odd
 * separators, checks, objects, heads that lie. Values are our own.
 */
import { shapesOf } from './own-shape.ts';
import type { FieldShape } from '../score-field.ts';
import { pairs } from './board-pairs.ts';
import { tables } from './board-tables.ts';

export const boardShapes: FieldShape[] = shapesOf([...pairs, ...tables], 5200);

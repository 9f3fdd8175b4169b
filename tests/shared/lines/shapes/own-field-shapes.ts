/**
 * Line shapes of loggers, boards, rigs and plants, invented here in the spirit of the field shapes and written down with their truth
 * before the learner was tried on them. Values are our own.
 */
import type { FieldShape } from '../score-field.ts';
import { shapesOf } from './own-shape.ts';
import { loggers } from './own-loggers.ts';
import { plants } from './own-plants.ts';

export const ownShapes: FieldShape[] = shapesOf([...loggers, ...plants], 700);

/**
 * Lines written by someone who did not know how the learner works, each with what a careful reader would do with it. Values are our own.
 */
import { shapesOf } from './own-shape.ts';
import type { FieldShape } from '../score-field.ts';
import { loggers } from './stranger-loggers.ts';
import { plants } from './stranger-plants.ts';

export const strangerShapes: FieldShape[] = shapesOf([...loggers, ...plants], 3100);

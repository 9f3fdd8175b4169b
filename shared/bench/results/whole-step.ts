/** A step as it can be saved. */
import { DoneStep as DoneStepSchema, type DoneStep } from '../bench-test.ts';

/** Figures that are no numbers are left out of a step: a record with one of them could not be saved, and the step would be lost. */
export function wholeStep(step: DoneStep): DoneStep {
  if (DoneStepSchema.safeParse(step).success) return step;
  const whole = dropUnfinished(step) as DoneStep;
  if (DoneStepSchema.safeParse(whole).success) return whole;
  const { stepId, end, atMs } = step;
  return { stepId, end, atMs: Number.isFinite(atMs) ? atMs : 0 };
}

/** Without every object that holds a figure which is none, and without its points in a list. */
function dropUnfinished(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value : undefined;
  if (Array.isArray(value)) {
    const isPair = value.every((one) => typeof one === 'number');
    const kept = value.map(dropUnfinished);
    return isPair && kept.includes(undefined) ? undefined : kept.filter((one) => one !== undefined);
  }
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, one]) => [key, dropUnfinished(one)] as const);
  const isFigure = (one: unknown): boolean => typeof one === 'number';
  const lostOne = Object.entries(value).some(([key, one]) => isFigure(one) && entries.find(([name]) => name === key)?.[1] === undefined);
  if (lostOne && !('stepId' in value)) return undefined;
  return Object.fromEntries(entries.filter(([, one]) => one !== undefined));
}

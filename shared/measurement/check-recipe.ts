import { problem, type Problem } from '../problem.ts';
import { err, ok, type Result } from '../result.ts';
import { plainRefusal } from '../plain-refusal.ts';
import { measurementTexts } from '../words/core/measurement.ts';
import { unitsFor } from './sent-unit.ts';
import type { Shape } from './recipe-shape.ts';
import type { FieldPlace } from './recipe.ts';
import { LineRecipe } from './recipe.ts';

const placeFits = (shape: Shape, at: FieldPlace): boolean => {
  switch (shape.kind) {
    case 'columns':
    case 'cycle':
    case 'registers':
      return typeof at === 'number';
    case 'keyed':
    case 'tagged':
    case 'json':
    case 'pattern':
      return typeof at === 'string';
    case 'fixed':
      return typeof at === 'object' && at.start < at.end && at.end <= shape.length;
  }
};

/** What is wrong with a well-formed recipe, in plain words; undefined when nothing is. */
function flawOf(recipe: LineRecipe): string | undefined {
  const channels = new Set<string>();
  for (const field of recipe.fields) {
    if (channels.has(field.channel)) return measurementTexts.twiceTheChannel(field.channel);
    channels.add(field.channel);
    if (!placeFits(recipe.shape, field.at)) return measurementTexts.placeOfChannel(field.channel, recipe.shape.kind);
    if (!unitsFor(field.channel).includes(field.unit)) return measurementTexts.otherUnit(field.channel, field.unit);
    if (field.valid !== undefined && field.valid[0] >= field.valid[1]) return measurementTexts.emptyRange(field.channel);
  }
  if (recipe.time.kind === 'field' && !placeFits(recipe.shape, recipe.time.at)) return measurementTexts.placeOfTime;
  if (recipe.status !== undefined && !placeFits(recipe.shape, recipe.status.at)) return measurementTexts.placeOfStatus;
  return undefined;
}

/** Checks a recipe that comes from a file, from another laptop or from the editor. */
export function checkRecipe(candidate: unknown): Result<LineRecipe, Problem> {
  const parsed = LineRecipe.safeParse(candidate);
  if (!parsed.success) return err(problem('recipe-invalid', plainRefusal(parsed.error)));
  const flaw = flawOf(parsed.data);
  return flaw === undefined ? ok(parsed.data) : err(problem('recipe-invalid', flaw));
}

/** How a line is built, in words and with the person's own line cut to pieces. */
import { patternFlaw } from '../../../../shared/lines/reading/read-places.ts';
import type { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import type { Shape } from '../../../../shared/measurement/recipe-shape.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { cycleText, parseCycle, withDelimiter, withShape } from './recipe-edit.ts';
import '../lines.css';

type Props = { recipe: LineRecipe; change: (recipe: LineRecipe) => void };
const kinds = Object.keys(words.shapes) as Shape['kind'][];
const optionsOf = (texts: Readonly<Record<string, string>>) => Object.entries(texts).map(([value, text]) => ({ value, text }));
const OTHER = 'other';

export function ShapeFields({ recipe, change }: Props) {
  const { shape } = recipe;
  const splits = shape.kind === 'columns' || shape.kind === 'tagged';
  return (
    <>
      <div className="recipe-row">
        <div className="wide">
          <Field
            label={words.name}
            value={recipe.name}
            numeric={false}
            change={(name) => change({ ...recipe, name: name.slice(0, 120) })}
          />
        </div>
        <div className="wide">
          <Choice
            label={words.shape}
            value={shape.kind}
            options={kinds.map((kind) => ({ value: kind, text: words.shapes[kind] }))}
            change={(kind) => change(withShape(recipe, kind))}
          />
        </div>
        {splits && <SplitAt recipe={recipe} change={change} delimiter={shape.delimiter} />}
        <div>
          <Choice
            label={words.decimal}
            value={recipe.decimal}
            options={optionsOf(words.decimals) as { value: '.' | ','; text: string }[]}
            change={(decimal) => change({ ...recipe, decimal })}
          />
        </div>
      </div>
      <ShapeMore recipe={recipe} change={change} />
      <p className="second small">
        {words.shapes[shape.kind]}: <span className="mono">{words.shapeExamples[shape.kind]}</span>
      </p>
    </>
  );
}

function SplitAt({ recipe, change, delimiter }: Props & { delimiter: string }) {
  const isKnown = delimiter in words.delimiters;
  return (
    <>
      <div className="mid">
        <Choice
          label={words.splitAt}
          value={isKnown ? delimiter : OTHER}
          options={[...optionsOf(words.delimiters), { value: OTHER, text: words.otherDelimiter }]}
          change={(value) => change(withDelimiter(recipe, value === OTHER ? '/' : value))}
        />
      </div>
      {!isKnown && (
        <div>
          <Field
            label={words.splitOther}
            value={delimiter}
            numeric={false}
            change={(text) => change(withDelimiter(recipe, text.slice(0, 20)))}
          />
        </div>
      )}
    </>
  );
}

function ShapeMore({ recipe, change }: Props) {
  const { shape } = recipe;
  switch (shape.kind) {
    case 'columns':
    case 'json':
      return null;
    case 'keyed':
      return (
        <div className="recipe-row">
          <div className="wide">
            <Choice
              label={words.separator}
              value={shape.separator}
              options={withOwn(words.separators, shape.separator)}
              change={(separator) => change({ ...recipe, shape: { ...shape, separator } })}
            />
          </div>
          <div className="wide">
            <Choice
              label={words.between}
              value={shape.between}
              options={withOwn(words.betweens, shape.between)}
              change={(between) => change({ ...recipe, shape: { ...shape, between } })}
            />
          </div>
        </div>
      );
    case 'tagged':
      return (
        <Field
          label={words.order}
          hint={words.orderHint}
          numeric={false}
          value={shape.gather.order.join(' ')}
          change={(text) => change({ ...recipe, shape: { ...shape, gather: { order: text.split(/\s+/).slice(0, 64) } } })}
        />
      );
    case 'cycle':
      return (
        <Field
          label={words.cycle}
          hint={words.cycleHint}
          numeric={false}
          value={cycleText(shape)}
          change={(text) => change({ ...recipe, shape: parseCycle(text) })}
        />
      );
    case 'fixed':
      return (
        <Field
          label={words.length}
          value={String(shape.length)}
          change={(text) => change({ ...recipe, shape: { ...shape, length: Number(text.replace(/\D/g, '')) } })}
        />
      );
    case 'registers':
      return (
        <Field
          label={words.skipBytes}
          value={String(shape.skipBytes)}
          change={(text) => change({ ...recipe, shape: { ...shape, skipBytes: Number(text.replace(/\D/g, '')) } })}
        />
      );
    case 'pattern': {
      const flaw = patternFlaw(shape.pattern);
      return (
        <Field
          label={words.pattern}
          hint={words.patternHint}
          error={flaw === undefined ? undefined : words.patternFlaw(flaw)}
          numeric={false}
          value={shape.pattern}
          change={(pattern) => change({ ...recipe, shape: { ...shape, pattern: pattern.slice(0, 1000) } })}
        />
      );
    }
  }
}

/** A recipe from elsewhere may hold what the list does not. */
const withOwn = (texts: Readonly<Record<string, string>>, own: string) => [
  ...optionsOf(texts),
  ...(own in texts ? [] : [{ value: own, text: own }]),
];

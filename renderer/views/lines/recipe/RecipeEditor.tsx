/** The recipe beside the lines: what each piece is, the learner's questions, and the way to use it. */
import { useState } from 'react';
import type { RunInfo } from '../../../../shared/ipc/run-info.ts';
import { lines as lineWords } from '../../../../shared/words/source.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Key } from '../../../components/Key.tsx';
import { Evidence } from './Evidence.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { FieldTable } from './FieldTable.tsx';
import { RecipeDetails } from './RecipeDetails.tsx';
import { SavedRecipes } from './SavedRecipes.tsx';
import { placesOf } from './recipe-places.ts';
import { ShapeFields } from './ShapeFields.tsx';
import type { RecipeDraft } from './use-recipe-draft.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import '../lines.css';
import './RecipeEditor.css';

const TRIED_LINES = 200;

export function RecipeEditor({
  info,
  draft,
  texts,
  mayAct,
}: {
  info: RunInfo;
  draft: RecipeDraft;
  texts: readonly string[];
  mayAct: boolean;
}) {
  const { actions, store } = useParts();
  const { recipe, change } = draft;
  const [said, setSaid] = useState('');
  const { runId } = info;
  const isOver = info.phase === 'ended';
  const isUsable = draft.flaw === undefined;
  const canUse = mayAct && isUsable && (draft.isChanged || draft.used === undefined);

  const tryIt = async (): Promise<void> => {
    if (!isUsable) return setSaid(`${words.wrong} ${draft.flaw}`);
    if (isOver) return reread(false);
    const tried = await actions.ask('recipe.preview', { runId, recipe, count: TRIED_LINES });
    if (tried === undefined) return;
    if (tried.lines.length === 0) return setSaid(words.nothingToTry);
    const now = words.tried(formatNumber(tried.understood, 0), formatNumber(tried.lines.length, 0));
    if (draft.used === undefined || !draft.isChanged) return setSaid(now);
    const before = await actions.ask('recipe.preview', { runId, recipe: draft.used, count: TRIED_LINES });
    setSaid(before === undefined ? now : `${now} ${words.triedBefore(formatNumber(before.understood, 0))}`);
  };
  const reread = async (keep: boolean): Promise<void> => {
    const story = await actions.ask('run.reread', { runId, recipe, keep });
    if (story === undefined) return;
    const [before, after] = [formatNumber(story.before.understood, 0), formatNumber(story.after.understood, 0)];
    setSaid(keep ? words.reread(before, after) : words.rereadTrial(before, after, words.readings(story.after.readings.length)));
    if (keep) draft.discard();
  };
  const use = async (): Promise<void> => {
    if (!canUse) return;
    if (isOver) return reread(true);
    const answer = await actions.ask('run.useRecipe', { runId, recipe });
    if (answer === undefined) return;
    store.getState().runChanged(answer);
    draft.discard();
    setSaid(words.used);
  };
  useKey('values', () => void tryIt());
  useKey('main', () => void use());

  const places = placesOf(recipe, texts);
  return (
    <section className="recipe-side" aria-label={lineWords.recipe} data-region="right">
      <div className="recipe-scroll" tabIndex={-1}>
        <div className="row gap-3 align-base">
          <h2 className="size-lead">{lineWords.recipe}</h2>
          <span className="grow" />
          <span className="second small" role="status">
            {draft.isChanged
              ? words.changed
              : info.recipeConfidence !== undefined
                ? words.learned(formatNumber(info.recipeConfidence * 100, 0))
                : draft.used === undefined
                  ? ''
                  : words.chosen}
          </span>
        </div>
        {draft.used === undefined && !draft.isChanged && <p className="second small">{words.none}</p>}
        <ShapeFields recipe={recipe} change={change} />
        <FieldTable recipe={recipe} places={places} change={change} disabled={!mayAct} />
        <Evidence columns={draft.columns} />
        <RecipeDetails recipe={recipe} change={change} />
        <SavedRecipes recipe={recipe} earlier={draft.earlier} isUsable={isUsable} mayAct={mayAct} take={change} say={setSaid} />
      </div>
      <div className="recipe-foot">
        {draft.isChanged && !isUsable && (
          <p className="field-error" role="alert">
            {words.wrong} <ChannelName text={draft.flaw ?? ''} />
          </p>
        )}
        <p className="said small" role="status">
          {said !== ''
            ? said
            : draft.preview === undefined
              ? ''
              : words.previewCount(formatNumber(draft.preview.understood, 0), formatNumber(draft.preview.rejected, 0))}
        </p>
        <div className="row gap-3 wraps">
          <button type="button" className="button" onClick={() => void tryIt()}>
            {words.tryIt} <Key action="values" />
          </button>
          {draft.isChanged ? (
            <button type="button" className="button" onClick={draft.discard}>
              {words.discard}
            </button>
          ) : (
            <button
              type="button"
              className="button"
              onClick={() => void draft.learn().then((found) => found || setSaid(words.nothingToTry))}
            >
              {words.learnAgain}
            </button>
          )}
          <button type="button" className="button main" disabled={!canUse} onClick={() => void use()}>
            {isOver ? words.rereadIt : words.use} <Key action="main" />
          </button>
        </div>
      </div>
    </section>
  );
}

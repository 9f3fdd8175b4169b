/** The recipe as it is used, the person's changes to it, and how the changed one reads the newest lines. */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import type { RunInfo, ShownColumn } from '../../../../shared/ipc/run-info.ts';
import type { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../../shared/measurement/check-recipe.ts';
import { useParts } from '../../../app-parts.ts';
import { blankRecipe } from './recipe-edit.ts';
import { defined } from '../../../../shared/defined.ts';

export type Preview = Output<'recipe.preview'>;
export type RecipeDraft = {
  readonly recipe: LineRecipe;
  readonly used: LineRecipe | undefined;
  readonly earlier: readonly LineRecipe[];
  /** the evidence of the columns: of the recipe in use, or of the best guess */
  readonly columns: readonly ShownColumn[];
  readonly confirmed: { roomAir: boolean; probe: boolean } | undefined;
  /** a reading comes over several lines */
  readonly hasParts: boolean;
  readonly isChanged: boolean;
  /** why it cannot be used, in words; undefined when it can */
  readonly flaw: string | undefined;
  /** only while it is changed and can be used */
  readonly preview: Preview | undefined;
  readonly change: (next: LineRecipe) => void;
  readonly discard: () => void;
  /** what the lines say now; @returns false when they say nothing yet */
  readonly learn: () => Promise<boolean>;
};

const PREVIEW_LINES = 60;
const PREVIEW_AFTER_MS = 250;
const PREVIEW_EVERY_MS = 2000;

export function useRecipeDraft(info: RunInfo): RecipeDraft {
  const { client } = useParts();
  const { runId, recipeName, channels } = info;
  const [known, setKnown] = useState<Output<'run.recipe'>>({ earlier: [] });
  const [proposed, setProposed] = useState<LineRecipe>();
  const [own, setOwn] = useState<LineRecipe>();
  const [preview, setPreview] = useState<Preview>();
  const [columns, setColumns] = useState<readonly ShownColumn[]>([]);
  const isLearning = recipeName === undefined;
  const used = known.recipe;
  const recipe = own ?? used ?? proposed ?? blankRecipe('my instrument');
  const checked = checkRecipe(recipe);
  const flaw = checked.ok ? undefined : (checked.error.detail ?? '');

  // another recipe in use shows in the name, the channels, or a confirmation
  const channelKey = channels.join();
  const air = info.check?.roomAir;
  const probe = info.check?.probe;
  useEffect(() => {
    let isCurrent = true;
    void client.call('run.recipe', { runId }).then((answer) => {
      if (isCurrent && answer.ok) setKnown(answer.value);
    });
    return () => void (isCurrent = false);
  }, [client, runId, recipeName, channelKey, air, probe, info.phase]);

  const propose = useCallback(() => client.call('recipe.propose', { runId }), [client, runId]);
  const keepFound = useCallback((answer: Awaited<ReturnType<typeof propose>>): LineRecipe | undefined => {
    if (!answer.ok) return undefined;
    const [best] = answer.value.proposals;
    setColumns(best?.columns ?? answer.value.refusal?.columns ?? []);
    return best?.recipe;
  }, []);
  // while nothing is known the best guess stands there, to be corrected
  const question = info.question === undefined ? '' : JSON.stringify(info.question).length.toString();
  const lineStep = isLearning ? Math.floor(Math.min(info.counters.lines, 200) / 10) : 0;
  useEffect(() => {
    if (!isLearning) return undefined;
    let isCurrent = true;
    void propose().then((answer) => {
      if (!isCurrent) return;
      const found = keepFound(answer);
      if (found !== undefined) setProposed(found);
    });
    return () => void (isCurrent = false);
  }, [isLearning, question, lineStep, propose, keepFound]);

  const isUsable = checked.ok;
  const isChanged = own !== undefined;
  const latest = useRef(recipe);
  useEffect(() => {
    latest.current = recipe;
  });
  useEffect(() => {
    if (!isChanged || !isUsable) return undefined;
    let isCurrent = true;
    let timer: ReturnType<typeof setTimeout>;
    const look = async (): Promise<void> => {
      const answer = await client.call('recipe.preview', { runId, recipe: latest.current, count: PREVIEW_LINES });
      if (!isCurrent) return;
      if (answer.ok) setPreview(answer.value);
      timer = setTimeout(() => void look(), PREVIEW_EVERY_MS);
    };
    timer = setTimeout(() => void look(), PREVIEW_AFTER_MS);
    return () => {
      isCurrent = false;
      clearTimeout(timer);
    };
  }, [own, isChanged, isUsable, client, runId]);

  return {
    recipe,
    used,
    columns: known.columns ?? columns,
    earlier: known.earlier,
    confirmed: known.confirmed,
    hasParts: 'gather' in recipe.shape && recipe.shape.gather !== undefined,
    isChanged,
    flaw,
    preview: isChanged && isUsable ? preview : undefined,
    change: (next) => setOwn(next),
    discard() {
      setOwn(undefined);
      setPreview(undefined);
    },
    async learn() {
      const found = keepFound(await propose());
      if (found === undefined) return false;
      // how it is asked stands in no line
      setOwn({ ...found, ...defined({ polling: recipe.polling }) });
      return true;
    },
  };
}

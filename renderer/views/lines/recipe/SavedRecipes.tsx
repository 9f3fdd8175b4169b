/** Recipes that are kept on this computer, in files and earlier in this run. */
import { useEffect, useRef, useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import type { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../../shared/measurement/check-recipe.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { useParts } from '../../../app-parts.ts';
import '../lines.css';

const LONGEST_FILE = 1 << 20;

/** The file is made here; its name says what is in it and holds no sign that a disk refuses. */
function saveAsFile(recipe: LineRecipe): void {
  const link = document.createElement('a');
  const address = URL.createObjectURL(new Blob([`${JSON.stringify(recipe, undefined, 2)}\n`], { type: 'application/json' }));
  link.href = address;
  link.download = `${recipe.name.replace(/[^A-Za-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'recipe'}.flueside-recipe`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

type Props = {
  recipe: LineRecipe;
  earlier: readonly LineRecipe[];
  isUsable: boolean;
  mayAct: boolean;
  take: (recipe: LineRecipe) => void;
  say: (sentence: string) => void;
};

export function SavedRecipes({ recipe, earlier, isUsable, mayAct, take, say }: Props) {
  const { actions } = useParts();
  const [kept, setKept] = useState<Output<'recipe.list'>>();
  const picker = useRef<HTMLInputElement>(null);
  const look = async (): Promise<void> => setKept(await actions.ask('recipe.list', {}));
  useEffect(() => {
    let isCurrent = true;
    void actions.ask('recipe.list', {}).then((list) => isCurrent && setKept(list));
    return () => void (isCurrent = false);
  }, [actions]);

  const save = async (): Promise<void> => {
    const answer = await actions.ask('recipe.save', { recipe });
    if (answer === undefined) return;
    say(words.saved(recipe.name, answer.revision));
    await look();
  };
  const remove = async (name: string): Promise<void> => {
    if ((await actions.ask('recipe.remove', { name })) === undefined) return;
    say(words.removed(name));
    await look();
  };
  const open = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    if (file.size > LONGEST_FILE) return say(words.importLong);
    let value: unknown;
    try {
      value = JSON.parse(await file.text());
    } catch {
      return say(words.importWrong);
    }
    const checked = checkRecipe(value);
    if (!checked.ok) return say(`${words.importWrong} ${checked.error.detail ?? ''}`.trim());
    take(checked.value);
    say(words.imported(checked.value.name));
  };

  const rows: { recipe: LineRecipe; about: string; canRemove: boolean }[] = [
    ...(kept?.recipes ?? []).map((one) => {
      const isShipped = kept?.shipped.includes(one.name) === true && one.revision === undefined;
      return { recipe: one, about: isShipped ? words.shipped : words.version(one.revision ?? 1), canRemove: !isShipped };
    }),
    ...(kept?.earlier ?? []).map((one) => ({
      recipe: one,
      about: `${words.version(one.revision ?? 1)}, ${words.earlier}`,
      canRemove: false,
    })),
    ...earlier.map((one) => ({ recipe: one, about: words.inThisRun, canRemove: false })),
  ];
  return (
    <details className="recipe-more">
      <summary>{words.savedRecipes}</summary>
      <div className="recipe-more-body">
        <div className="choice-row">
          <button type="button" className="button" disabled={!mayAct || !isUsable} onClick={() => void save()}>
            {words.save}
          </button>
          <button type="button" className="button" disabled={!isUsable} onClick={() => saveAsFile(recipe)}>
            {words.export}
          </button>
          <button type="button" className="button" onClick={() => picker.current?.click()}>
            {words.import}
          </button>
          <input
            ref={picker}
            type="file"
            hidden
            accept=".flueside-recipe,.json,application/json"
            aria-label={words.import}
            onChange={(event) => {
              void open(event.target.files?.[0]);
              event.target.value = '';
            }}
          />
        </div>
        <ul className="recipe-list">
          {rows.map(({ recipe: one, about, canRemove }, index) => (
            <li key={index}>
              <span className="grow">
                <b>{one.name}</b> <span className="second small">{about}</span>
              </span>
              <button type="button" className="button" aria-label={words.takeNamed(one.name)} onClick={() => take(one)}>
                {words.take}
              </button>
              {canRemove && (
                <button
                  type="button"
                  className="button"
                  disabled={!mayAct}
                  aria-label={words.removeNamed(one.name)}
                  onClick={() => void remove(one.name)}
                >
                  {words.remove}
                </button>
              )}
            </li>
          ))}
        </ul>
      </div>
    </details>
  );
}

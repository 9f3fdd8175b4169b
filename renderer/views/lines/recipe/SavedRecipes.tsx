/** Recipes that are kept on this computer, in files and earlier in this run. */
import { useEffect, useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import type { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../../shared/measurement/check-recipe.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { useParts } from '../../../app-parts.ts';
import { saveText } from '../../../backend/save-text.ts';
import { FileButton } from '../../../components/FileButton.tsx';
import '../lines.css';

const LONGEST_FILE = 1 << 20;

/** The file's name says what is in it and holds no sign that a disk refuses. */
const saveAsFile = (recipe: LineRecipe): void =>
  saveText(
    `${recipe.name.replace(/[^A-Za-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'recipe'}.flueside-recipe`,
    `${JSON.stringify(recipe, undefined, 2)}\n`,
  );

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
  const open = async (file: File): Promise<void> => {
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
          <FileButton text={words.import} accept=".flueside-recipe,.json,application/json" choose={([file]) => void open(file)} />
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

/** What few instruments need: line end, clock, check, lines to leave out, words for no value, asking. */
import { useId, useState } from 'react';
import { absentReasons, instrumentStates } from '../../../../shared/measurement/sample.ts';
import { checkKinds, type LineCheck, type LineRecipe } from '../../../../shared/measurement/recipe.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { noValueText, parseNoValue, parseStatus, statusText } from './recipe-edit.ts';
import { commandBytes, shownBytes } from '../../../../shared/lines/shown-bytes.ts';
import '../lines.css';

type Props = { recipe: LineRecipe; change: (recipe: LineRecipe) => void };
const options = <T extends string>(texts: Readonly<Record<T, string>>) =>
  (Object.entries(texts) as [T, string][]).map(([value, text]) => ({ value, text }));
const digits = (text: string): number => Number(text.replace(/\D/g, ''));

export function RecipeDetails({ recipe, change }: Props) {
  return (
    <details className="recipe-more">
      <summary>{words.details}</summary>
      <div className="recipe-more-body">
        <Polled recipe={recipe} change={change} />
        <NoValue recipe={recipe} change={change} />
        <Framing recipe={recipe} change={change} />
        <Clock recipe={recipe} change={change} />
        <CheckFields recipe={recipe} change={change} />
        <Area
          label={words.ignore}
          hint={words.ignoreHint}
          text={recipe.ignore.prefixes.join('\n')}
          take={(text) =>
            void change({
              ...recipe,
              ignore: {
                ...recipe.ignore,
                prefixes: text
                  .split('\n')
                  .flatMap((line) => (line === '' ? [] : [line.slice(0, 80)]))
                  .slice(0, 64),
              },
            })
          }
        />
        <Check label={words.onKey} checked={recipe.onKey} change={(onKey) => change({ ...recipe, onKey })} />
      </div>
    </details>
  );
}

function Polled({ recipe, change }: Props) {
  const { polling } = recipe;
  const turn = (on: boolean): void => {
    const { polling: before, ...rest } = recipe;
    void before;
    change(on ? { ...rest, polling: { command: 'READ?\r\n', intervalMs: 1000, retries: 2 } } : rest);
  };
  return (
    <>
      <Check label={words.polled} checked={polling !== undefined} change={turn} />
      {polling !== undefined && (
        <>
          <Typed
            label={words.command}
            hint={words.commandHint}
            text={shownBytes(polling.command)}
            take={(text) => change({ ...recipe, polling: { ...polling, command: commandBytes(text).slice(0, 200) } })}
          />
          <div className="recipe-row">
            <div>
              <Typed
                label={words.interval}
                text={String(polling.intervalMs / 1000)}
                take={(text) =>
                  change({ ...recipe, polling: { ...polling, intervalMs: Math.round(Number(text.replace(',', '.')) * 1000) || 0 } })
                }
              />
            </div>
            <div>
              <Typed
                label={words.retries}
                text={String(polling.retries)}
                take={(text) => change({ ...recipe, polling: { ...polling, retries: digits(text) } })}
              />
            </div>
          </div>
        </>
      )}
    </>
  );
}

function NoValue({ recipe, change }: Props) {
  return (
    <>
      <Area
        label={words.noValue}
        hint={words.noValueHint}
        text={noValueText(recipe)}
        take={(text) => {
          const found = parseNoValue(text);
          if ('wrong' in found) return words.noValueWrong(found.wrong, absentReasons.map((reason) => words.absent[reason]).join(', '));
          change({ ...recipe, ...found });
          return undefined;
        }}
      />
      {recipe.status !== undefined && (
        <Area
          label={words.statusWords}
          hint={words.statusHint}
          text={statusText(recipe)}
          take={(text) => {
            const found = parseStatus(text);
            if ('wrong' in found) return words.noValueWrong(found.wrong, instrumentStates.map((state) => words.states[state]).join(', '));
            if (recipe.status !== undefined) change({ ...recipe, status: { ...recipe.status, words: found.words } });
            return undefined;
          }}
        />
      )}
      <Choice
        label={words.thousands}
        value={recipe.thousands}
        options={options(words.thousandsKinds)}
        change={(thousands) => change({ ...recipe, thousands })}
      />
    </>
  );
}

function Framing({ recipe, change }: Props) {
  const { framing } = recipe;
  const known = { ...words.terminators };
  const own = framing.terminator ?? 'any';
  return (
    <div className="recipe-row">
      <div className="choice">
        <Choice
          label={words.terminator}
          value={own}
          options={options(own in known ? known : { ...known, [own]: shownBytes(own) })}
          change={(value) => {
            const { terminator, ...rest } = framing;
            void terminator;
            change({ ...recipe, framing: value === 'any' ? rest : { ...rest, terminator: value } });
          }}
        />
      </div>
      <div>
        <Choice
          label={words.encoding}
          value={framing.encoding}
          options={options(words.encodings)}
          change={(encoding) => change({ ...recipe, framing: { ...framing, encoding } })}
        />
      </div>
      <div>
        <Typed
          label={words.longest}
          text={String(framing.longestLine)}
          take={(text) => change({ ...recipe, framing: { ...framing, longestLine: digits(text) } })}
        />
      </div>
    </div>
  );
}

function Clock({ recipe, change }: Props) {
  const { time } = recipe;
  if (time.kind !== 'field') return null;
  return (
    <Choice
      label={words.clock}
      value={time.format}
      options={options(words.clocks)}
      change={(format) => change({ ...recipe, time: { ...time, format } })}
    />
  );
}

function CheckFields({ recipe, change }: Props) {
  const { check } = recipe;
  const turn = (kind: LineCheck['kind']): void =>
    change({
      ...recipe,
      check:
        kind === 'none'
          ? { kind }
          : check.kind === 'none'
            ? {
                kind,
                lead: '*',
                skip: kind === 'xor' ? 1 : 0,
                coversLead: false,
                as: 'hex',
                digits: kind.startsWith('crc16') ? 4 : 2,
                overPairs: false,
              }
            : { ...check, kind },
    });
  return (
    <div className="recipe-row">
      <div className="wide">
        <Choice
          label={words.check}
          value={check.kind}
          options={(['none', ...checkKinds] as const).map((kind) => ({ value: kind, text: words.checks[kind] }))}
          change={turn}
        />
      </div>
      {check.kind !== 'none' && (
        <>
          <div>
            <Typed
              label={words.checkLead}
              text={check.lead}
              take={(lead) => change({ ...recipe, check: { ...check, lead: lead.slice(0, 4) } })}
            />
          </div>
          <div>
            <Typed
              label={words.checkSkip}
              text={String(check.skip)}
              take={(text) => change({ ...recipe, check: { ...check, skip: digits(text) } })}
            />
          </div>
        </>
      )}
    </div>
  );
}

/** Shows what was typed while it is being typed, and what was understood afterwards. */
function Typed({ label, hint, text, take }: { label: string; hint?: string; text: string; take: (text: string) => void }) {
  const [typed, setTyped] = useState<string>();
  return (
    <div onBlur={() => setTyped(undefined)}>
      <Field
        label={label}
        hint={hint}
        numeric={false}
        value={typed ?? text}
        change={(next) => {
          setTyped(next);
          take(next);
        }}
      />
    </div>
  );
}

function Area({
  label,
  hint,
  text,
  take,
}: {
  label: string;
  hint: string;
  text: string;
  take: (text: string) => string | undefined | void;
}) {
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const [wrong, setWrong] = useState<string>();
  return (
    <div>
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <textarea
        id={id}
        className={`area${wrong === undefined ? '' : ' wrong'}`}
        rows={3}
        spellCheck={false}
        aria-invalid={wrong !== undefined}
        aria-describedby={`${id}-note`}
        value={typed ?? text}
        onChange={(event) => {
          setTyped(event.target.value);
          setWrong(take(event.target.value) ?? undefined);
        }}
        onBlur={() => {
          if (wrong === undefined) setTyped(undefined);
        }}
      />
      <div
        className={wrong === undefined ? 'field-hint' : 'field-error'}
        id={`${id}-note`}
        role={wrong === undefined ? undefined : 'alert'}
      >
        {wrong ?? hint}
      </div>
    </div>
  );
}

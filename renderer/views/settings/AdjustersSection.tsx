import { useState } from 'react';
import type { Settings } from '../../../shared/ipc/settings.ts';
import { adjusterKinds, kindOf, type AdjusterKind } from '../../../shared/tuning/trial/adjuster.ts';
import { settingsWords as words } from '../../../shared/words/settings.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Check, Choice, Field } from '../../components/Field.tsx';
import { errorOf, typedPlain, valueOf } from '../../fields/typed.ts';
import { formatPosition } from '../../../shared/format/quantity.ts';
import { defined } from '../../../shared/defined.ts';
import './settings.css';

type Kept = Settings['adjusters'][number];
type Row = {
  id: number;
  name: string;
  low: string;
  high: string;
  step: string;
  coarse: boolean;
  kind: AdjusterKind | '';
  moreAir: 'up' | 'down' | '';
};

const MOST = 6;
const rowOf = ({ name, coarse, min, max, step, kind, moreAir }: Kept, id: number): Row => ({
  id,
  name,
  coarse,
  low: min === undefined ? '' : formatPosition(min),
  high: max === undefined ? '' : formatPosition(max),
  step: formatPosition(step),
  kind: kindOf({ name, kind }) ?? '',
  moreAir: moreAir ?? '',
});

/** What the rows say, or undefined while one of them cannot be kept: the settings then stay as they were. */
function keptOf(rows: readonly Row[]): Kept[] | undefined {
  const names = rows.map(({ name }) => name.trim().toLowerCase());
  if (new Set(names).size < names.length || rows.some((row) => wrongOf(row) !== undefined)) return undefined;
  return rows.map(({ name, low, high, step, coarse, kind, moreAir }) => {
    const [min, max] = [valueOf(typedPlain(low)), valueOf(typedPlain(high))];
    return {
      name: name.trim().slice(0, 40),
      coarse,
      ...defined({ min, max }),
      step: valueOf(typedPlain(step)) ?? 1,
      ...(kind === '' ? {} : { kind }),
      ...(kind !== 'air' || moreAir === '' ? {} : { moreAir }),
    };
  });
}
function wrongOf({ name, low, high, step }: Row): string | undefined {
  const [typedLow, typedHigh, typedStep] = [typedPlain(low), typedPlain(high), typedPlain(step)];
  if (name.trim() === '') return words.adjusterWrong.name;
  const unread = errorOf(typedLow) ?? errorOf(typedHigh) ?? errorOf(typedStep);
  if (unread !== undefined) return unread;
  if (typedLow.kind === 'value' && typedHigh.kind === 'value' && typedLow.value >= typedHigh.value) return words.adjusterWrong.range;
  return typedStep.kind === 'value' && typedStep.value > 0 ? undefined : words.adjusterWrong.step;
}

/** The burner's adjusters on the person's own scales; they stand in the mark bar in this order. */
export function AdjustersSection() {
  const { actions } = useParts();
  const kept = useApp((state) => state.settings.adjusters);
  const [rows, setRows] = useState<readonly Row[]>(() => kept.map(rowOf));
  const change = (next: readonly Row[]): void => {
    setRows(next);
    const adjusters = keptOf(next);
    if (adjusters !== undefined) void actions.changeSettings({ adjusters });
  };
  const set = (id: number, part: Partial<Row>): void => change(rows.map((row) => (row.id === id ? { ...row, ...part } : row)));
  const isDouble = (row: Row): boolean =>
    rows.some((one) => one.id !== row.id && one.name.trim().toLowerCase() === row.name.trim().toLowerCase());
  return (
    <section className="adjusters-section">
      <h2>{words.adjusters}</h2>
      <p className="second">{words.adjustersAbout}</p>
      <ul className="adjusters-list">
        {rows.map((row) => {
          const wrong = isDouble(row) ? words.adjusterWrong.name : wrongOf(row);
          return (
            <li key={row.id}>
              <div role="group" aria-label={row.name}>
                <div className="adjuster-row">
                  <Field label={words.adjusterName} value={row.name} numeric={false} width={150} change={(name) => set(row.id, { name })} />
                  <Field label={words.adjusterLow} value={row.low} width={76} change={(low) => set(row.id, { low })} />
                  <Field label={words.adjusterHigh} value={row.high} width={76} change={(high) => set(row.id, { high })} />
                  <Field label={words.adjusterStep} value={row.step} width={76} change={(step) => set(row.id, { step })} />
                  <Choice
                    label={words.adjusterKind}
                    value={row.kind}
                    width={150}
                    change={(kind) => set(row.id, { kind })}
                    options={(['', ...adjusterKinds] as const).map((value) => ({ value, text: words.adjusterKinds[value] }))}
                  />
                  {row.kind === 'air' && (
                    <Choice
                      label={words.adjusterMoreAir}
                      value={row.moreAir}
                      width={170}
                      change={(moreAir) => set(row.id, { moreAir })}
                      options={(['', 'up', 'down'] as const).map((value) => ({ value, text: words.adjusterMoreAirs[value] }))}
                    />
                  )}
                  <Check label={words.adjusterCoarse} checked={row.coarse} change={(coarse) => set(row.id, { coarse })} />
                  <button
                    type="button"
                    className="button"
                    aria-label={words.adjusterAway(row.name)}
                    disabled={rows.length === 1}
                    onClick={() => change(rows.filter(({ id }) => id !== row.id))}
                  >
                    −
                  </button>
                </div>
                {row.kind === '' && <p className="notice-text">{words.adjusterKindAsk}</p>}
                {wrong !== undefined && (
                  <p className="field-error" role="alert">
                    {wrong}
                  </p>
                )}
              </div>
            </li>
          );
        })}
      </ul>
      <button
        type="button"
        className="button"
        disabled={rows.length >= MOST}
        onClick={() =>
          change([
            ...rows,
            {
              id: Math.max(0, ...rows.map(({ id }) => id)) + 1,
              name: words.adjusterNew(rows.length + 1),
              low: '0',
              high: '10',
              step: '1',
              coarse: false,
              kind: '',
              moreAir: '',
            },
          ])
        }
      >
        {words.adjusterAdd}
      </button>
    </section>
  );
}

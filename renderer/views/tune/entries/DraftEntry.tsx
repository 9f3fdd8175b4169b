import { useState, type ReactNode } from 'react';
import type { MarkBody } from '../../../../shared/measurement/mark.ts';
import { storedDraft, type DraftPlace } from '../../../../shared/tuning/trial/draft.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { useApp } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Check, Field } from '../../../components/Field.tsx';
import { selectUnits } from '../../../state/selectors.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { errorOf, typedQuantity, valueOf } from '../../../fields/typed.ts';
import { LookButton } from './LookButton.tsx';
import { useSaveMark } from './use-save-mark.tsx';
import { draftBoth, formatNumber, formatWithUnit, shownAs } from '../../../../shared/format/quantity.ts';
import { defined } from '../../../../shared/defined.ts';

const words = live.draftDialog;

type DraftBody = Extract<MarkBody, { kind: 'draft' }>;
export type DraftFields = {
  fields: ReactNode;
  isWrong: boolean;
  body: DraftBody | undefined;
  said: string;
  fill: (overFirePa: number, breechPa: number) => void;
};

/** Both drafts as they are typed; alone in their window, and under the smoke where both are asked for. */
export function useDraftFields({ first, tried, needsOne }: { first: boolean; tried: boolean; needsOne: boolean }): DraftFields {
  const units = useApp(selectUnits);
  const [overFire, setOverFire] = useState('');
  const [breech, setBreech] = useState('');
  const [pressurised, setPressurised] = useState(false);
  const { unit, factor, decimals } = shownAs('draft', units);
  const typed = { overFire: typedQuantity(overFire, 'draft', units), breech: typedQuantity(breech, 'draft', units) };

  const stored = (pa: number | undefined, place: DraftPlace): number | undefined => {
    if (pa === undefined) return undefined;
    // the box over fire says pressure: then the sign is as typed
    if (pressurised && place === 'over-fire') return pa;
    const answer = storedDraft({ typedPa: pa, place, habit: 'plain', pressurised: false });
    return answer.kind === 'stored' ? answer.pa : answer.suctionPa;
  };
  const overFirePa = stored(valueOf(typed.overFire), 'over-fire');
  const breechPa = stored(valueOf(typed.breech), 'breech');
  const none = overFirePa === undefined && breechPa === undefined;
  const parts = [
    overFirePa === undefined ? [] : [`${live.markWords.overFire} ${formatWithUnit('draft', overFirePa, units)}`],
    breechPa === undefined ? [] : [`${live.markWords.breech} ${formatWithUnit('draft', breechPa, units)}`],
  ].flat();
  const hint = (pa: number | undefined): string | undefined => (pa === undefined ? undefined : words.reads(draftBoth(pa, units)));
  return {
    isWrong: typed.overFire.kind === 'wrong' || typed.breech.kind === 'wrong',
    body: none ? undefined : { kind: 'draft', ...defined({ overFirePa, breechPa }) },
    said: live.markWords.draft(parts.join(', ')),
    fill: (overFireNow, breechNow) => {
      setOverFire(formatNumber(overFireNow * factor, decimals));
      setBreech(formatNumber(breechNow * factor, decimals));
      setPressurised(overFireNow > 0);
    },
    fields: (
      <>
        <p className="second">{words.about}</p>
        <div className="choice-row">
          <Field
            label={words.overFire}
            first={first}
            value={overFire}
            change={setOverFire}
            unit={unit}
            width={240}
            hint={hint(overFirePa)}
            error={errorOf(typed.overFire) ?? (tried && none && needsOne ? words.one : undefined)}
          />
          <Field
            label={words.breech}
            value={breech}
            change={setBreech}
            unit={unit}
            width={240}
            hint={hint(breechPa)}
            error={errorOf(typed.breech)}
          />
        </div>
        <Check label={words.pressureThere} checked={pressurised} change={setPressurised} />
      </>
    ),
  };
}

export function DraftEntry({ record, close }: { record: RunRecord; close: () => void }) {
  const [tried, setTried] = useState(false);
  const { fields, isWrong, body, said, fill } = useDraftFields({ first: true, tried, needsOne: true });
  const { save, question } = useSaveMark(close, { isTyped: body !== undefined });
  const submit = async (): Promise<void> => {
    setTried(true);
    if (body !== undefined && !isWrong) await save(body, said);
  };

  return (
    <Dialog
      title={words.title}
      close={close}
      submit={submit}
      foot={
        <DialogFoot main={words.use}>
          <LookButton record={record} text={words.simulated} fill={({ overFirePa, breechPa }) => fill(overFirePa, breechPa)} />
        </DialogFoot>
      }
    >
      {fields}
      {question}
    </Dialog>
  );
}

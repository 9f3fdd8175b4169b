import { useState } from 'react';
import { storedDraft, type DraftPlace } from '../../../../shared/tuning/draft.ts';
import { live } from '../../../../shared/words/live.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { Check, Field } from '../../../components/Field.tsx';
import { formatNumber, formatWithUnit, shownAs } from '../../../format/quantity.ts';
import { selectUnits } from '../../../state/selectors.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { errorOf, typedQuantity, valueOf } from './typed-number.ts';
import { useKeepMark } from './use-keep-mark.ts';

const words = live.draftDialog;

export function DraftEntry({ record, close }: { record: RunRecord; close: () => void }) {
  const { actions } = useParts();
  const units = useApp(selectUnits);
  const [overFire, setOverFire] = useState('');
  const [breech, setBreech] = useState('');
  const [pressurised, setPressurised] = useState(false);
  const [tried, setTried] = useState(false);
  const keep = useKeepMark(close);
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
  const wrong = typed.overFire.kind === 'wrong' || typed.breech.kind === 'wrong';

  const submit = (): void => {
    setTried(true);
    if (none || wrong) return;
    const parts = [
      overFirePa === undefined ? [] : [`${live.markWords.overFire} ${formatWithUnit('draft', overFirePa, units)}`],
      breechPa === undefined ? [] : [`${live.markWords.breech} ${formatWithUnit('draft', breechPa, units)}`],
    ].flat();
    keep(
      { kind: 'draft', ...(overFirePa === undefined ? {} : { overFirePa }), ...(breechPa === undefined ? {} : { breechPa }) },
      live.markWords.draft(parts.join(', ')),
    );
  };
  const look = async (): Promise<void> => {
    const seen = await actions.ask('simulator.look', { runId: record.info.runId });
    if (seen === undefined) return;
    setOverFire(formatNumber(seen.overFirePa * factor, decimals));
    setBreech(formatNumber(seen.breechPa * factor, decimals));
    setPressurised(seen.overFirePa > 0);
    // Enter keeps it then, instead of looking again
    document.querySelector<HTMLElement>('dialog [data-first]')?.focus();
  };
  const hint = (pa: number | undefined): string | undefined =>
    pa === undefined ? undefined : words.reads(formatWithUnit('draft', pa, units));

  return (
    <Dialog
      title={words.title}
      close={close}
      submit={submit}
      foot={
        <>
          {record.info.source.kind === 'simulated' && (
            <button type="button" className="button" onClick={() => void look()}>
              {words.simulated}
            </button>
          )}
          <span className="grow" />
          <button type="submit" className="button main">
            {words.use} <kbd aria-hidden="true">Enter</kbd>
          </button>
        </>
      }
    >
      <p className="second">{words.about}</p>
      <div className="choice-row">
        <Field
          label={words.overFire}
          first
          value={overFire}
          change={setOverFire}
          unit={unit}
          width={240}
          hint={hint(overFirePa)}
          error={errorOf(typed.overFire) ?? (tried && none ? words.one : undefined)}
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
    </Dialog>
  );
}

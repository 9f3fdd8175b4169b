import { useState } from 'react';
import type { Setting } from '../../../../shared/measurement/mark.ts';
import { checkPosition } from '../../../../shared/tuning/trial/adjuster.ts';
import { positionOf, withPosition } from '../../../../shared/tuning/trial/setting.ts';
import { positionRefusal } from '../../../../shared/words/visit/refusals.ts';
import { curveScreen as words } from '../../../../shared/words/visit/screens/air-curve.ts';
import { useParts } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import type { RunRecord } from '../../../state/run-record.ts';
import { errorOf, typedPlain } from '../../../fields/typed.ts';
import { usePresentSetting, useVisit } from '../use-visit.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';

/** Any other setting, typed; each position against its own scale, and nothing is clamped. */
export function OtherSetting({ record, close }: { record: RunRecord; close: () => void }) {
  const { actions, sounds } = useParts();
  const { visit, stage, formats } = useVisit();
  const present = usePresentSetting();
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({});
  const fields = visit.adjusters.map((adjuster) => {
    const stands = present === undefined ? undefined : positionOf(present, adjuster.name);
    const text = texts[adjuster.name] ?? (stands === undefined ? '' : formatPosition(stands));
    const typed = typedPlain(text);
    const checked = typed.kind === 'value' ? checkPosition(adjuster, typed.value) : undefined;
    const error = errorOf(typed) ?? (checked !== undefined && !checked.ok ? positionRefusal(checked.error, formats) : undefined);
    return { adjuster, text, value: checked?.ok === true ? checked.value : undefined, error };
  });
  const changed = fields.some(({ adjuster }) => texts[adjuster.name] !== undefined);
  const submit = async (): Promise<void> => {
    if (!changed || fields.some(({ error }) => error !== undefined)) return;
    const setting = fields.reduce<Setting>(
      (so, { adjuster, value }) => (value === undefined ? so : withPosition(so, adjuster.name, value)),
      { stage: stage.name, positions: present?.positions ?? [] },
    );
    const mark = await actions.mark({ kind: 'adjustment', setting }, { setsSimulator: record.info.simulator !== undefined });
    if (mark === undefined) return;
    sounds.play('mark');
    close();
  };
  return (
    <Dialog
      title={words.otherTitle}
      close={close}
      submit={submit}
      foot={<DialogFoot main={words.otherUse} says={<span className="grow second small">{changed ? '' : words.otherNothing}</span>} />}
    >
      <div className="choice-row">
        {fields.map(({ adjuster, text, error }, at) => (
          <Field
            key={adjuster.name}
            label={adjuster.name}
            value={text}
            unit={adjuster.unit}
            first={at === 0}
            width={180}
            change={(next) => setTexts({ ...texts, [adjuster.name]: next })}
            error={error}
          />
        ))}
      </div>
    </Dialog>
  );
}

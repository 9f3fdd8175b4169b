import { useState } from 'react';
import { settlingChannels } from '../../../../shared/measurement/channel.ts';
import { quantities } from '../../../../shared/units/quantities.ts';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { channelWords } from '../../../../shared/words/tune/states.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import type { RunRecord } from '../../../state/run-record.ts';
import { selectUnits } from '../../../state/selectors.ts';
import { errorOf, typedQuantity } from '../../../fields/typed.ts';
import { shownAs } from '../../../../shared/format/quantity.ts';

const words = live.typeDialog;
/** CO2 where the display shows it: it is held against O2 and the fuel. */
const asked = [...settlingChannels, 'co2'] as const;
type Asked = (typeof asked)[number];
const nameOf = (channel: Asked): string => (channel === 'co2' ? quantities.co2.label : channelWords[channel].name);

/** For an instrument without a port: what its display shows now becomes one line of the run. */
export function ValuesEntry({ record, close }: { record: RunRecord; close: () => void }) {
  const { actions } = useParts();
  const units = useApp(selectUnits);
  const [texts, setTexts] = useState<Partial<Record<Asked, string>>>({});
  const [tried, setTried] = useState(false);
  const typed = asked.map((channel) => ({ channel, typed: typedQuantity(texts[channel] ?? '', channel, units) }));
  const values = typed.flatMap(({ channel, typed: one }) => (one.kind === 'value' ? [[channel, one.value] as const] : []));
  const submit = async (): Promise<void> => {
    setTried(true);
    if (values.length === 0 || typed.some(({ typed: one }) => one.kind === 'wrong')) return;
    const done = await actions.ask('run.typeValues', { runId: record.info.runId, values: Object.fromEntries(values) });
    if (done !== undefined) close();
  };
  return (
    <Dialog title={words.title} close={close} submit={submit} foot={<DialogFoot main={words.use} />}>
      <p className="second">{words.about}</p>
      <div className="choice-row">
        {typed.map(({ channel, typed: one }, index) => (
          <Field
            key={channel}
            width={140}
            first={index === 0}
            label={nameOf(channel)}
            unit={shownAs(channel, units).unit}
            value={texts[channel] ?? ''}
            change={(text) => setTexts({ ...texts, [channel]: text })}
            error={errorOf(one) ?? (tried && values.length === 0 && index === 0 ? common.fieldErrors.empty : undefined)}
          />
        ))}
      </div>
    </Dialog>
  );
}

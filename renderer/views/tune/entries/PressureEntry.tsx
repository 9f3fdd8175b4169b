import { useState } from 'react';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { useApp } from '../../../app-parts.ts';
import { OneFieldEntry } from './OneFieldEntry.tsx';
import { selectUnits } from '../../../state/selectors.ts';
import { errorOf, typedQuantity } from '../../../fields/typed.ts';
import { useSaveMark } from './use-save-mark.tsx';
import { formatWithUnit, shownAs } from '../../../../shared/format/quantity.ts';

const words = live.pressureDialog;

export function PressureEntry({ close }: { close: () => void }) {
  const units = useApp(selectUnits);
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  const { save } = useSaveMark(close, { isTyped: text !== '', forTrial: false });
  const typed = typedQuantity(text, 'pumpPressure', units);
  const submit = async (): Promise<void> => {
    setTried(true);
    if (typed.kind === 'value')
      await save({ kind: 'pressure', pumpPa: typed.value }, live.markWords.pressure(formatWithUnit('pumpPressure', typed.value, units)));
  };
  return (
    <OneFieldEntry
      words={words}
      close={close}
      submit={submit}
      field={{
        value: text,
        change: setText,
        unit: shownAs('pumpPressure', units).unit,
        width: 240,
        error: errorOf(typed) ?? (tried && typed.kind === 'empty' ? common.fieldErrors.empty : undefined),
      }}
    />
  );
}

import { useState, type ReactNode } from 'react';
import { formatNumber, withUnit } from '../../../../shared/format/quantity.ts';
import {
  flameDetectors,
  isDarkEnough,
  judgeFlameMicroamps,
  judgeFlameOhm,
  type FlameDetector,
} from '../../../../shared/tuning/safety/safety-plan.ts';
import { flameCurrentWords, flameSignalWords } from '../../../../shared/words/visit/safety-tests.ts';
import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { errorOf, isAnyWrong, typedPlain, valueOf } from '../../../fields/typed.ts';

export type FlameSignal = {
  /** what stands in the note of the test */
  written: string[];
  /** what the figure says; undefined where nothing can be said */
  verdict: string | undefined;
  /** a figure that cannot be read */
  isWrong: boolean;
  fields: ReactNode;
};

/** What the flame detector gives: a resistance, with the flame and in the dark; or a current, against the least that the control needs. */
export function useFlameSignal(may: boolean): FlameSignal {
  const [detector, setDetector] = useState<FlameDetector>('resistance');
  const [figure, setFigure] = useState('');
  const [second, setSecond] = useState('');
  const typed = [typedPlain(figure), typedPlain(second)] as const;
  const [value, other] = [valueOf(typed[0]), valueOf(typed[1])];
  const isWrong = isAnyWrong(typed);
  const choose = (next: FlameDetector): void => {
    setDetector(next);
    setFigure('');
    setSecond('');
  };
  const field = (label: string, text: string, change: (text: string) => void, unit: string, hint?: string): ReactNode => (
    <Field
      label={label}
      value={text}
      change={change}
      unit={unit}
      width={240}
      error={errorOf(typedPlain(text))}
      hint={hint}
      disabled={!may}
    />
  );
  const choice = (
    <Choice
      label={words.detector}
      value={detector}
      change={choose}
      options={flameDetectors.map((one) => ({ value: one, text: words.detectors[one] }))}
      width={240}
    />
  );
  if (detector === 'other')
    return { written: [words.detectors.other], verdict: undefined, isWrong: false, fields: <div className="form-row">{choice}</div> };
  if (detector === 'current') {
    const judged = value === undefined ? undefined : judgeFlameMicroamps(value, other);
    const verdict = judged && flameCurrentWords[judged];
    return {
      written: [
        value === undefined ? '' : withUnit(formatNumber(value, 1), 'µA'),
        other === undefined ? '' : `${words.least} ${withUnit(formatNumber(other, 1), 'µA')}`,
      ],
      verdict,
      isWrong,
      fields: (
        <div className="form-row">
          {choice}
          {field(words.current, figure, setFigure, 'µA')}
          {field(words.leastCurrent, second, setSecond, 'µA')}
          {verdict !== undefined && value !== undefined && (
            <p className="lead">{`${withUnit(formatNumber(value, 1), 'µA')}: ${verdict}`}</p>
          )}
        </div>
      ),
    };
  }
  const verdict = value === undefined ? undefined : flameSignalWords[judgeFlameOhm(value)];
  return {
    written: [value === undefined ? '' : `${formatNumber(value, 0)} Ω`, second.trim() === '' ? '' : `${words.dark} ${second.trim()} Ω`],
    verdict,
    // what the dark gives is written as it was typed: meters have many words for 'no end'
    isWrong: typed[0].kind === 'wrong',
    fields: (
      <div className="form-row">
        {choice}
        {field(words.flameOn, figure, setFigure, 'Ω')}
        {field(
          words.dark,
          second,
          setSecond,
          'Ω',
          other === undefined ? undefined : isDarkEnough(other) ? words.darkEnough : words.darkLow,
        )}
        {verdict !== undefined && value !== undefined && <p className="lead">{`${withUnit(formatNumber(value, 0), 'Ω')}: ${verdict}`}</p>}
      </div>
    ),
  };
}

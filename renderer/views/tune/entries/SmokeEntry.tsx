import { useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import type { SmokeSpot } from '../../../../shared/measurement/mark.ts';
import { parseSmoke, type SmokeRefusal } from '../../../../shared/tuning/trial/smoke.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { probeWords } from '../../../../shared/words/tune/probe.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Check, Field } from '../../../components/Field.tsx';
import type { RunRecord } from '../../../state/run-record.ts';
import { LookButton } from './LookButton.tsx';
import { useSaveMark } from './use-save-mark.tsx';
import { formatSmoke } from '../../../../shared/format/quantity.ts';

const words = live.smokeDialog;
type Spot = { text: string; wet: boolean };

const refusal = ({ key }: SmokeRefusal): string =>
  ({ 'smoke-above-scale': words.above, 'smoke-below-scale': words.below, 'smoke-not-half': words.half, 'smoke-unclear': words.unclear })[
    key
  ];

/** Up to three spots; an empty field is a spot that was not pumped. */
export function SmokeEntry({ record, close }: { record: RunRecord; close: () => void }) {
  const [spots, setSpots] = useState<readonly Spot[]>([0, 1, 2].map(() => ({ text: '', wet: false })));
  const [oil, setOil] = useState(false);
  const [tried, setTried] = useState(false);
  const { save, trial, question } = useSaveMark(close, { isTyped: oil || spots.some(({ text, wet }) => text !== '' || wet) });
  const change = (index: number, part: Partial<Spot>): void =>
    setSpots(spots.map((spot, at) => (at === index ? { ...spot, ...part } : spot)));
  const parsed = spots.map(({ text }) => (text.trim() === '' ? undefined : parseSmoke(text)));
  const filled = parsed.filter((one) => one !== undefined);

  const submit = async (): Promise<void> => {
    setTried(true);
    if (filled.length === 0 || filled.some((one) => !one.ok)) return;
    const body: SmokeSpot[] = parsed.flatMap((one, index) =>
      one?.ok === true
        ? [{ number: one.value, ...(spots[index]?.wet === true ? { flaw: 'wet' as const } : {}), ...(oil ? { oilTrace: true } : {}) }]
        : [],
    );
    await save({ kind: 'smoke', spots: body }, live.markWords.smoke(body.map(({ number }) => formatSmoke(number)).join(', ')));
  };
  const fill = ({ smoke }: Output<'simulator.look'>): void => {
    setSpots([0, 1, 2].map((index) => ({ text: smoke[index] === undefined ? '' : formatSmoke(smoke[index].number), wet: false })));
    setOil(smoke.some(({ oilTrace }) => oilTrace));
  };

  return (
    <Dialog
      title={words.title}
      close={close}
      submit={submit}
      foot={
        <DialogFoot main={words.use}>
          <LookButton record={record} text={words.simulated} fill={fill} />
          <button
            type="button"
            className="button"
            onClick={() => void save({ kind: 'smoke', spots: [], notTaken: true }, live.markWords.smokeNot)}
          >
            {words.notTaken}
          </button>
        </DialogFoot>
      }
    >
      <p className="second">
        {words.about} {words.belongs(live.trial(trial))} {probeWords.how}
      </p>
      <div className="choice-row">
        {spots.map((spot, index) => {
          const one = parsed[index];
          const empty = tried && filled.length === 0 && index === 0 ? words.unclear : undefined;
          return (
            <div key={index} style={{ width: 186 }}>
              <Field
                label={words.spot(index + 1)}
                value={spot.text}
                first={index === 0}
                change={(text) => change(index, { text })}
                error={one?.ok === false && tried ? refusal(one.error) : empty}
              />
              <Check label={words.wet} checked={spot.wet} change={(wet) => change(index, { wet })} />
            </div>
          );
        })}
      </div>
      <Check label={words.oil} checked={oil} change={setOil} />
      {question}
    </Dialog>
  );
}

/** The spot before the probe goes in, with the cautions of the step beside it: one press for both. */
import { useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import type { SmokeSpot } from '../../../../shared/measurement/mark.ts';
import { unacknowledged } from '../../../../shared/tuning/advice/cautions.ts';
import { parseSmoke } from '../../../../shared/tuning/trial/smoke.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { probeWords as words } from '../../../../shared/words/tune/probe.ts';
import { smokeRefusal } from '../../../../shared/words/visit/refusals.ts';
import { cautionWords } from '../../../../shared/words/visit/cautions.ts';
import { formatsFor } from '../../../../shared/words/formats.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Check, Field } from '../../../components/Field.tsx';
import { selectUnits } from '../../../state/selectors.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { LookButton } from './LookButton.tsx';
import { formatSmoke } from '../../../../shared/format/quantity.ts';

export function ProbeEntry({ record, close }: { record: RunRecord; close: () => void }) {
  const { actions, visits, sounds, store } = useParts();
  const visit = useApp((state) => state.visit);
  const step = useApp((state) => state.visitStep);
  const formats = formatsFor(useApp(selectUnits));
  const [texts, setTexts] = useState<readonly string[]>(['', '', '']);
  const [oil, setOil] = useState(false);
  const [without, setWithout] = useState('');
  const [tried, setTried] = useState(false);
  if (visit === undefined) return null;
  const cautions = unacknowledged(step, visit.cautions);
  const parsed = texts.map((text) => (text.trim() === '' ? undefined : parseSmoke(text)));
  const spots: SmokeSpot[] = parsed.flatMap((one) => (one?.ok === true ? [{ number: one.value, ...(oil ? { oilTrace: true } : {}) }] : []));
  const reason = without.trim();
  const isWrong = parsed.some((one) => one?.ok === false);
  // oil is seen on a paper: a reason for no spot must not lose it
  const isEmpty = spots.length === 0 && (oil || reason.length < 3);

  const keep = (): void => {
    setTried(true);
    if (isWrong || isEmpty) return;
    const wallMs = visits.nowWallMs();
    const refused = visits.edit([
      ...cautions.map((key, at) => ({ path: ['cautions', visit.cautions.length + at], after: { key, wallMs } })),
      {
        path: visit.probeSmoke === undefined ? ['probeSmoke'] : ['probeSmoke', visit.probeSmoke.length],
        after: ((one) => (visit.probeSmoke === undefined ? [one] : one))({
          wallMs,
          spots,
          ...(spots.length === 0 && { withoutReason: reason.slice(0, 300) }),
        }),
      },
    ]);
    if (refused !== undefined) return store.getState().commandFailed(refused);
    // the same spot is the smoke of the setting that stands
    if (spots.length > 0) void actions.mark({ kind: 'smoke', spots });
    sounds.play('mark');
    close();
  };
  const fill = ({ smoke }: Output<'simulator.look'>): void => {
    setTexts([0, 1, 2].map((at) => (smoke[at] === undefined ? '' : formatSmoke(smoke[at].number))));
    setOil(smoke.some(({ oilTrace }) => oilTrace));
  };

  return (
    <Dialog
      title={words.title}
      close={close}
      submit={keep}
      foot={
        <DialogFoot main={cautions.length > 0 ? words.keepRead : words.keep}>
          <LookButton record={record} text={live.smokeDialog.simulated} fill={fill} />
        </DialogFoot>
      }
    >
      {cautions.length > 0 && (
        <ul className="cautions-list">
          {cautions.map((key) => (
            <li key={key}>{cautionWords[key]}</li>
          ))}
        </ul>
      )}
      <p>
        <b>{words.limit}</b> <span className="second">{words.how}</span>
      </p>
      <div className="choice-row">
        {texts.map((text, at) => {
          const one = parsed[at];
          return (
            <div key={at} style={{ width: 150 }}>
              <Field
                label={live.smokeDialog.spot(at + 1)}
                value={text}
                first={at === 0}
                change={(next) => setTexts(texts.map((old, index) => (index === at ? next : old)))}
                error={
                  one?.ok === false && tried
                    ? smokeRefusal(one.error, formats)
                    : tried && isEmpty && at === 0
                      ? live.smokeDialog.unclear
                      : undefined
                }
              />
            </div>
          );
        })}
        <Check label={live.smokeDialog.oil} checked={oil} change={setOil} />
      </div>
      <Field
        label={words.without}
        value={without}
        change={setWithout}
        numeric={false}
        hint={words.withoutHint}
        error={tried && isEmpty && reason.length > 0 ? words.withoutAbout : undefined}
      />
    </Dialog>
  );
}

import { useState } from 'react';
import { O2_FLOOR_PERCENT, flueCoDefaults, setFlueCoLimits, setO2Floor } from '../../../../shared/tuning/advice/cautions.ts';
import { limitRefusal } from '../../../../shared/words/visit/refusals.ts';
import { alarmWords as words } from '../../../../shared/words/tune/alarms.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import { errorOf, typedPlain, valueOf } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import './start.css';

/** When CO in the flue is a notice and when an alarm. Lower is free; higher needs a reason, which goes into the report. */
export function FlueLimitsButton() {
  const { visit, formats, may } = useVisit();
  const [open, setOpen] = useState(false);
  const limits = visit.flueCoLimits ?? flueCoDefaults;
  return (
    <div className="limits-line">
      <div>
        <div className="field-label">
          <ChannelName text={words.flueTitle} />
        </div>
        <div>
          <ChannelName
            text={words.limits(
              formats.ppm(limits.noticePpm),
              formats.ppm(limits.alarmPpm),
              formats.o2(visit.o2FloorPercent ?? O2_FLOOR_PERCENT),
            )}
          />
        </div>
      </div>
      <button type="button" className="button" disabled={!may} onClick={() => setOpen(true)}>
        {words.change}
      </button>
      {open && <FlueLimits close={() => setOpen(false)} />}
    </div>
  );
}

function FlueLimits({ close }: { close: () => void }) {
  const { visit, formats, may, edit } = useVisit();
  const before = visit.flueCoLimits ?? flueCoDefaults;
  const [notice, setNotice] = useState(String(before.noticePpm));
  const [floor, setFloor] = useState(String(visit.o2FloorPercent ?? O2_FLOOR_PERCENT));
  const [alarm, setAlarm] = useState(String(before.alarmPpm));
  const [reason, setReason] = useState(visit.flueCoLimits?.reason ?? '');
  const [refused, setRefused] = useState<string>();
  const submit = (): void => {
    const [noticePpm, alarmPpm] = [valueOf(typedPlain(notice)), valueOf(typedPlain(alarm))];
    if (noticePpm === undefined || alarmPpm === undefined) return setRefused(limitRefusal({ key: 'limit-not-positive' }, formats));
    const said = reason.trim() === '' ? {} : { reason: reason.trim() };
    const set = setFlueCoLimits({ noticePpm, alarmPpm, ...said });
    if (!set.ok) return setRefused(limitRefusal(set.error, formats));
    const lowest = setO2Floor(valueOf(typedPlain(floor)) ?? NaN, reason);
    if (!lowest.ok) return setRefused(limitRefusal(lowest.error, formats));
    const why = edit(
      { path: ['flueCoLimits'], after: set.value },
      ...(lowest.value === (visit.o2FloorPercent ?? O2_FLOOR_PERCENT) ? [] : [{ path: ['o2FloorPercent'], after: lowest.value }]),
    );
    if (why === undefined) close();
    else setRefused(why);
  };
  return (
    <Dialog
      title={words.raiseTitle}
      close={close}
      submit={submit}
      foot={
        <DialogFoot
          main={words.keep}
          off={!may}
          says={
            <span className="grow field-error" role="alert">
              {refused}
            </span>
          }
        />
      }
    >
      <div className="choice-row">
        <Field label={words.notice} value={notice} change={setNotice} unit="ppm" width={170} first error={errorOf(typedPlain(notice))} />
        <Field label={words.alarm} value={alarm} change={setAlarm} unit="ppm" width={170} error={errorOf(typedPlain(alarm))} />
        <Field label={words.floor} value={floor} change={setFloor} unit="%" width={170} error={errorOf(typedPlain(floor))} />
      </div>
      <Field label={words.reason} value={reason} change={setReason} numeric={false} />
      <p className="second small">{words.why}</p>
    </Dialog>
  );
}

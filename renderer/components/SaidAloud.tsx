import { useEffect, useRef, useState } from 'react';
import { useApp, useParts } from '../app-parts.ts';
import { live } from '../../shared/words/tune/live.ts';
import { useKey } from '../keys/use-key.ts';
import { announcementsOf, spokenOf } from '../live/announcements.ts';
import { roomToLeave, standingCoAlarm } from '../state/co-alerts.ts';
import { runningTrialOf, selectRun } from '../state/selectors.ts';

const SILENT_AGAIN_MS = 30_000;
const ALARM_EVERY_MS = 5_000;
const QUIET_AFTER_SEEN_MS = 60_000;
const SAID_FOR_MS = 8_000;

/** Speaks changes of state to a screen reader and plays their sounds; also what was done last. */
export function SaidAloud() {
  const { store, sounds, speech, actions } = useParts();
  const isSpoken = useApp((state) => state.settings.speech);
  const alarmWords = useApp((state) => standingCoAlarm(state)?.strong);
  useKey('speak', () => {
    void actions
      .changeSettings({ speech: !isSpoken })
      .then((isChanged) => isChanged && store.getState().saidChanged(isSpoken ? live.speechOff : live.speechOn));
  });
  useEffect(() => {
    if (alarmWords !== undefined) speech.say(alarmWords);
  }, [alarmWords, speech]);
  const said = useApp((state) => state.said);
  const [words, setWords] = useState('');
  const isAlarm = useApp((state) => state.standing.some(({ problem }) => problem.code === 'disk-full' || problem.code === 'disk-failed'));
  const coAlarm = useApp((state) => standingCoAlarm(state)?.key);
  const everybodyOut = useApp((state) => roomToLeave(state) !== undefined);
  const isAway = useApp((state) => selectRun(state)?.info.phase === 'lost');
  const seenAlarm = useRef<{ key: string | undefined; at: number }>({ key: undefined, at: 0 });
  const before = useRef(selectRun(store.getState()));

  useEffect(
    () =>
      store.subscribe((state) => {
        const now = selectRun(state);
        if (now === before.current) return;
        const heard = announcementsOf(before.current, now, runningTrialOf(state));
        before.current = now;
        if (heard.length === 0 || state.callIt) return;
        // one sound at a time: the weightiest came first
        const sound = heard.find((one) => one.sound !== undefined)?.sound;
        if (sound !== undefined) sounds.play(sound);
        setWords(heard.map((one) => one.words).join(' '));
        speech.say(spokenOf(heard, now, state.settings.units));
      }),
    [store, sounds, speech],
  );
  useEffect(() => {
    if (said === '') return undefined;
    const over = setTimeout(() => store.getState().saidChanged(''), SAID_FOR_MS);
    return () => clearTimeout(over);
  }, [said, store]);
  useEffect(() => {
    if (!isAway) return undefined;
    const again = setTimeout(() => sounds.play('silent'), SILENT_AGAIN_MS);
    return () => clearTimeout(again);
  }, [isAway, sounds]);
  useEffect(() => {
    if (!isAlarm) return undefined;
    sounds.play('alarm');
    const again = setInterval(() => sounds.play('alarm'), ALARM_EVERY_MS);
    return () => clearInterval(again);
  }, [isAlarm, sounds]);
  useEffect(() => {
    // around its limit it comes and goes: once seen, the same alarm is quiet for a while
    const isSeen = !everybodyOut && seenAlarm.current.key === coAlarm && performance.now() - seenAlarm.current.at < QUIET_AFTER_SEEN_MS;
    if (coAlarm === undefined || isSeen) return undefined;
    sounds.play('alarm');
    const again = setInterval(() => sounds.play('alarm'), ALARM_EVERY_MS);
    // seen: somebody is at the keys again. Leaving the room is never taken as seen.
    const seen = (): void => {
      clearInterval(again);
      seenAlarm.current = { key: coAlarm, at: performance.now() };
    };
    if (!everybodyOut) {
      addEventListener('keydown', seen, { once: true });
      addEventListener('pointerdown', seen, { once: true });
    }
    return () => {
      clearInterval(again);
      removeEventListener('keydown', seen);
      removeEventListener('pointerdown', seen);
    };
  }, [coAlarm, everybodyOut, sounds]);
  return (
    <>
      <div className="hidden-text" role="status" aria-live="polite">
        {words}
      </div>
      <div className="hidden-text" aria-live="polite">
        {said}
      </div>
    </>
  );
}

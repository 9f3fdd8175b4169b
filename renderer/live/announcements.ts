/** What changed that must be heard and told: (before, now) -> sounds and words. Pure; the sounds are never the only sign. */
import { live } from '../../shared/words/tune/live.ts';
import { channelWords, stateWords } from '../../shared/words/tune/states.ts';
import { settlingChannels } from '../../shared/measurement/channel.ts';
import type { SoundName } from '../sound/sounds.ts';
import { isSilent } from '../state/channels.ts';
import { readinessOf, type RunningTrial } from '../state/readiness.ts';
import type { RunRecord } from '../state/run-record.ts';
import { formatValue, type UnitSystem } from '../../shared/format/quantity.ts';

export type Announcement = { sound: SoundName | undefined; words: string };

export function announcementsOf(before: RunRecord | undefined, now: RunRecord | undefined, trial?: RunningTrial): Announcement[] {
  if (now === undefined || before === undefined || before.info.runId !== now.info.runId) return [];
  const isAway = (record: RunRecord): boolean => record.info.phase === 'lost' || isSilent(record);
  if (isAway(now) && !isAway(before)) return [{ sound: 'silent', words: live.announce.silent }];
  if (isAway(now)) return [];
  const heard: Announcement[] = [];
  if (isAway(before)) heard.push({ sound: undefined, words: live.announce.back });
  const [ready, wasReady] = [readinessOf(now, trial), readinessOf(before, trial)];
  if (ready === 'full' && wasReady !== 'full') heard.push({ sound: 'full', words: live.announce.full });
  if (ready === 'gas' && wasReady === 'none') heard.push({ sound: 'gas', words: live.announce.gas });
  for (const channel of settlingChannels) {
    const [state, was] = [now.face.states[channel]?.state, before.face.states[channel]?.state];
    if (state !== undefined && was !== undefined && state !== was)
      heard.push({ sound: undefined, words: live.announce.state(channelWords[channel].name, stateWords[state]) });
  }
  return heard;
}

/** For ears that are away from the screen: which reading is ready, and its figures as they stand. Nothing for a change of state alone. */
export function spokenOf(heard: readonly Announcement[], record: RunRecord | undefined, units: UnitSystem): string {
  const ready = heard.find(({ sound }) => sound === 'full' || sound === 'gas');
  const away = heard.find(({ sound }) => sound === 'silent');
  if (ready === undefined || record === undefined) return away?.words ?? '';
  const channels = ready.sound === 'full' ? settlingChannels : (['o2', 'co'] as const);
  const figures = channels.flatMap((channel) => {
    const value = record.face.states[channel]?.value;
    return value === undefined ? [] : [`${channelWords[channel].name} ${formatValue(channel, value, units)}.`];
  });
  return [ready.words, ...figures].join(' ');
}

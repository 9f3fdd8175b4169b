import { useState } from 'react';
import { formatDay } from '../../../../shared/format/date.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { ApplianceKnowledge } from '../../../../shared/measurement/knowledge.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Sure } from '../Sure.tsx';
import { useAnswer } from '../../../queries/use-answer.ts';

/** The times of its cells, with which the runs of its visits begin. */
export function KnownTimes({ instrumentId, zoneMinutes }: { instrumentId: string; zoneMinutes: number }) {
  const { actions } = useParts();
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [asks, setAsks] = useState(false);
  const stored = useAnswer('document.list', { kind: 'knowledge', parentId: instrumentId, limit: 1 })?.documents[0];
  const { learnedWallMs, channels } = ApplianceKnowledge.safeParse(stored?.body).data?.knowledge ?? {};
  if (learnedWallMs === undefined || channels === undefined) return null;
  const times = (['o2', 'co'] as const).flatMap((channel) => {
    const { sensor, dead } = channels[channel] ?? {};
    return sensor === undefined
      ? []
      : [
          words.instrument.times(
            bench.channels[channel],
            withUnit((dead?.mean ?? 0) + Math.LN10 * Math.exp(sensor.mean)),
            dead && withUnit(dead.mean),
          ),
        ];
  });
  const forget = async (): Promise<void> => {
    setAsks(false);
    await actions.ask('document.remove', { kind: 'knowledge', id: instrumentId });
  };
  return (
    <p className="second">
      <ChannelName text={words.instrument.known(formatDay(learnedWallMs, zoneMinutes), times)} />{' '}
      <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks(true)}>
        {words.forgetKnown}
      </button>
      {asks && (
        <Sure
          title={words.forgetKnownTitle}
          about={words.instrument.forgetAbout}
          yes={words.yesForget}
          run={() => forget()}
          close={() => setAsks(false)}
        />
      )}
    </p>
  );
}
const withUnit = (seconds: number): string => `${formatNumber(seconds, 0)}\u00a0s`;

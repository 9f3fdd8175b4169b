import { useEffect, useState } from 'react';
import { lightOffIn } from '../../../shared/warm-up/capture.ts';
import { useParts } from '../../app-parts.ts';

const LOOK_EVERY_MS = 2000;

/** Light-off of the run on screen, looked for in what this window holds; asked again while it is not found. */
export function useLightOff(runId: string | undefined): number | undefined {
  const { buffers } = useParts();
  const [found, setFound] = useState<{ runId: string; timeMs: number }>();
  const isFound = found !== undefined && found.runId === runId;
  useEffect(() => {
    if (runId === undefined || isFound) return undefined;
    const run = buffers.of(runId);
    const look = (): void => {
      const column = (channel: 'o2' | 'stackTemperature') => {
        const { timeMs, low } = run.series(channel).query(0, run.nowMs(), 4000);
        return { timeMs, values: low };
      };
      const timeMs = lightOffIn({ o2: column('o2'), stackTemperature: column('stackTemperature') });
      if (timeMs !== undefined) setFound({ runId, timeMs });
    };
    look();
    const again = setInterval(look, LOOK_EVERY_MS);
    return () => clearInterval(again);
  }, [buffers, runId, isFound]);
  return isFound ? found.timeMs : undefined;
}

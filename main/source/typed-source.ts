/** For an instrument without a port: what is typed from its display becomes a line like any other. */
import type { Clock } from '../../shared/clock.ts';
import type { ChannelId } from '../../shared/measurement/channel.ts';
import { writeTyped } from '../../shared/pipeline/typed-line.ts';
import { textBytes, type LineSource, type SourceEvent } from './source.ts';

export interface TypedSource extends LineSource {
  type(values: Partial<Record<ChannelId, number>>): void;
}

export function createTypedSource(clock: Clock): TypedSource {
  let listener: ((event: SourceEvent) => void) | undefined;
  return {
    info: { kind: 'typed' },
    start(told) {
      listener = told;
      told({ kind: 'opened', atMs: clock.nowMs() });
    },
    stop() {
      listener = undefined;
      return Promise.resolve();
    },
    type(values) {
      listener?.({ kind: 'bytes', atMs: clock.nowMs(), bytes: textBytes(`${writeTyped(values)}\n`) });
    },
  };
}

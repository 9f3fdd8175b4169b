/** What is odd about the lines of a live run, and the two facts that confirm its columns. Nothing here changes what is read. */
import type { CheckInfo, LineNotice } from '../../../shared/measurement/line-notice.ts';
import { createConfirmation, type Confirmation } from '../../../shared/lines/confirm.ts';
import { createContradictionWatch, createInstrumentClockWatch } from '../../../shared/lines/sample-watches.ts';
import { createSentinelWatch, type SentinelWatch } from '../../../shared/lines/reading/sentinels.ts';
import { createStaleWatch, type StaleWatch } from '../../../shared/lines/stale.ts';
import { unprintableShare } from '../../../shared/lines/wrong-baud.ts';
import type { ChannelId } from '../../../shared/measurement/channel.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';

export interface LineWatches {
  line(line: StampedLine): void;
  sample(sample: Sample): void;
  notices(): LineNotice[];
  /** said and waved off: the same notice comes again only after its cause was gone */
  waveOff(kind: LineNotice['kind']): void;
  /** other columns, another speed, another device: what was seen before says nothing */
  startAnew(): void;
  startCheck(): void;
  startWarming(): void;
  stopCheck(): void;
  readonly check: CheckInfo | undefined;
}

/** lines that are looked at for the share of unprintable bytes, and how often */
const LINES_LOOKED_AT = 40;
const LOOK_EVERY_LINES = 10;
/** more lines than any reading stands on */
const LINES_WITHOUT_SAMPLE = 60;

/**
 * @param baud the speed now; undefined where there is none (no serial port)
 * @param hasRecipe is a recipe in use?
 */
export function createLineWatches(parts: {
  baud: () => number | undefined;
  hasRecipe: () => boolean;
  onChange: () => void;
  onConfirmed: (check: CheckInfo) => void;
}): LineWatches {
  let stale: StaleWatch = createStaleWatch();
  let sentinels: SentinelWatch = createSentinelWatch();
  let lines: StampedLine[] = [];
  let sinceLook = 0;
  let sinceSample = 0;
  let contradictions = createContradictionWatch();
  let instrumentClock = createInstrumentClockWatch();
  let confirmation: Confirmation | undefined;
  const standing = new Map<LineNotice['kind'], LineNotice>();
  const wavedOff = new Set<LineNotice['kind']>();
  const say = (notice: LineNotice): void => {
    if (wavedOff.has(notice.kind) || standing.has(notice.kind)) return;
    standing.set(notice.kind, notice);
    parts.onChange();
  };
  const over = (kind: LineNotice['kind']): void => {
    wavedOff.delete(kind);
    if (standing.delete(kind)) parts.onChange();
  };

  const infoOf = ({ roomAir, probe, moved }: Confirmation['state']): CheckInfo => ({ roomAir, probe, moved: [...moved] });
  const pushCheck = (sample: Sample): void => {
    if (confirmation === undefined) return;
    const before = infoOf(confirmation.state);
    const now = infoOf(confirmation.push(sample));
    if (before.roomAir === now.roomAir && before.probe === now.probe && before.moved.join() === now.moved.join()) return;
    const isNews =
      (before.roomAir !== now.roomAir && now.roomAir === 'confirmed') || (before.probe !== now.probe && now.probe === 'confirmed');
    if (isNews) parts.onConfirmed(now);
    parts.onChange();
  };

  return {
    line(line) {
      if (!parts.hasRecipe()) sinceSample = 0;
      else if (++sinceSample === LINES_WITHOUT_SAMPLE) say({ kind: 'reads-nothing', lines: LINES_WITHOUT_SAMPLE });
      const baud = parts.baud();
      if (baud === undefined) return;
      lines.push(line);
      if (lines.length > LINES_LOOKED_AT) lines.shift();
      // a line without end is odd by itself, so that it is looked at when it is cut
      if (++sinceLook < LOOK_EVERY_LINES && line.cutBytes === undefined) return;
      sinceLook = 0;
      const { isWrong, share } = unprintableShare(lines, baud);
      if (isWrong) say({ kind: 'wrong-speed', share, baud });
      else over('wrong-speed');
    },
    sample(sample) {
      // its own line is counted after it
      sinceSample = -1;
      over('reads-nothing');
      const contradiction = contradictions.push(sample);
      if (contradiction === undefined) over('contradiction');
      else say({ kind: 'contradiction', what: contradiction });
      const byMs = instrumentClock.push(sample);
      if (byMs !== undefined) {
        over('clock-set');
        say({ kind: 'clock-set', byMs });
      }
      const sinceMs = stale.push(sample);
      if (sinceMs === undefined) over('stale');
      else say({ kind: 'stale', sinceMs });
      for (const channel of Object.keys(sample.values) as ChannelId[]) {
        const found = sentinels.seen(channel, sample.values[channel] as number);
        if (found !== undefined) say({ kind: 'sentinel', ...found });
      }
      pushCheck(sample);
    },
    notices: () => [...standing.values()],
    waveOff(kind) {
      standing.delete(kind);
      wavedOff.add(kind);
    },
    startAnew() {
      stale = createStaleWatch();
      sentinels = createSentinelWatch();
      lines = [];
      sinceLook = 0;
      sinceSample = 0;
      contradictions = createContradictionWatch();
      instrumentClock = createInstrumentClockWatch();
      confirmation = undefined;
      standing.clear();
      wavedOff.clear();
    },
    startCheck() {
      confirmation = createConfirmation();
    },
    startWarming() {
      confirmation?.startWarming();
    },
    stopCheck() {
      confirmation = undefined;
    },
    get check() {
      return confirmation === undefined ? undefined : infoOf(confirmation.state);
    },
  };
}

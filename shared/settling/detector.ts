/** What the settling detector takes and gives. How it works: `settling.ts`. */
import type { SettlingChannel } from '../measurement/channel.ts';
import type { SettlingKnowledge } from '../measurement/knowledge.ts';
import type { Bands, Tolerances } from '../measurement/limits.ts';
import type { Mark } from '../measurement/mark.ts';
import type { Sample } from '../measurement/sample.ts';
import type { ChannelState, Reading } from '../measurement/state.ts';

export type SettlingMode = 'own' | 'lab' | 'field';
export type SettlingOptions = {
  readonly bands?: Partial<Bands>;
  /** of the instrument: they are in the uncertainty of every reading */
  readonly tolerances?: Partial<Tolerances>;
  readonly typedAirC?: number;
  readonly mode?: SettlingMode;
  /** channels that the instrument has; learned from the stream when absent */
  readonly expected?: readonly SettlingChannel[];
  /** what earlier runs have taught of this appliance */
  readonly known?: SettlingKnowledge;
};
export type SettlingUpdate = { readonly changed: readonly ChannelState[]; readonly readings: readonly Reading[] };
export interface Settling {
  /** samples in time order */
  push(sample: Sample): SettlingUpdate;
  /** an adjustment is a change whose time is known, confirmed when the move is seen; may arrive late */
  mark(mark: Mark): SettlingUpdate;
  /** unplugged, suspended: nothing joins over it */
  gap(timeMs: number): SettlingUpdate;
  /** an air temperature typed in place of a measured one; changes what is derived, not what has settled */
  typeAir(airC: number | undefined): void;
  /** for display only: turns to silent when lines stay away; never changes later readings */
  tick(timeMs: number): SettlingUpdate;
  states(): readonly ChannelState[];
  /** being offered now, revised while the stretch lasts */
  openReading(): Reading | undefined;
  /** s from a marked turn until the channel answers, learned from marks; before the first what the bench found, if anything */
  deadTimeS(channel: SettlingChannel): number | undefined;
  /** what this run has taught, together with what it began with; undefined before the first change */
  knowledge(): SettlingKnowledge | undefined;
  /** means of the last 10 s, whatever the state */
  takeByHand(timeMs: number): Reading | undefined;
}

import type { GeometryLeft } from '../measurement/geometry-left.ts';
import type { Result } from '../result.ts';
import type { Problem } from '../problem.ts';
import type { AmountName, InletGas, PartValue, SwitchName } from './parts.ts';
import type { FlueGas } from './plant.ts';
import type { SimulatedChannel } from './scenario.ts';
import type { Spot } from './smoke-pump.ts';

export interface Adjuster {
  readonly name: 'shutter' | 'band';
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly value: number;
}

export type SimulatedLine = { readonly timeMs: number; readonly text: string };
type PerChannel = Readonly<Record<SimulatedChannel, number>>;

/** For scores and teaching only; nothing that judges a stream may look at it. */
export interface Truth {
  readonly firing: boolean;
  /** what the display would show without noise and rounding, its constant errors included: dead time and lag are in */
  readonly shown: PerChannel;
  /** where `shown` is heading with everything left as it is; undefined while the burner is off or the probe is not in the flue */
  readonly headingFor: PerChannel | undefined;
  /** the dry flue gas at the appliance's outlet, without noise */
  readonly flue: FlueGas;
  /** O2 in the flue at which the warm flame's smoke reaches 0.5 */
  readonly smokeOnsetO2: number;
  /** the same, as a healthy instrument sees it behind the leak */
  readonly smokeOnsetO2AtProbe: number;
  /** smoke number at rest with everything left as it is */
  readonly smokeAtRest: number | undefined;
}

/** The simulated burner with its instrument: writes text lines, as an instrument would. Times in ms from the first line. */
export interface Burner {
  readonly header: string | undefined;
  readonly terminator: '\r\n' | '\n';
  readonly channels: readonly SimulatedChannel[];
  readonly ratePerSecond: number;
  /** Moves the physics to `timeMs` and returns the lines due since the last call, the header first of all. Going back does nothing. */
  advanceTo(timeMs: number): readonly SimulatedLine[];
  /** Turns shutter or band; kept within its scale. Acts at the next step when `atMs` is past. */
  setAdjuster(name: string, value: number, atMs: number): Result<number, Problem>;
  /** As the technician names them: '1' is what the scenario describes, any other is the second stage. */
  setStage(stage: string, atMs: number): void;
  /** Changes a part (see parts.ts) live; amounts move over `overMs`. */
  setPart(name: string, value: PartValue, atMs: number, overMs?: number): Result<null, Problem>;
  /** What a visit set with the gauge: the next start and the flame from now on follow it. */
  setGeometry(left: GeometryLeft): void;
  adjusters(): readonly Adjuster[];
  /** how every part stands now, for the instructor's list */
  parts(): {
    readonly amounts: Readonly<Record<AmountName, number>>;
    readonly switches: Readonly<Record<SwitchName, boolean>>;
    readonly inlet: InletGas | undefined;
  };
  isFiring(): boolean;
  isPlugged(): boolean;
  /** What a smoke pump would give; every call is another spot. */
  smokeSpot(atMs: number): Spot;
  /** Pa against the room, suction negative */
  draft(atMs: number): { readonly overFirePa: number; readonly breechPa: number };
  gauges(atMs: number): {
    readonly overFirePa: number;
    readonly breechPa: number;
    readonly pumpPressurePa: number;
    readonly roomCoPpm: number;
  };
  truth(atMs: number): Truth;
}

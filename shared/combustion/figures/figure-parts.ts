import type { Fuel } from '../fuel.ts';
import type { FlueGas, FlueGasSlopes } from '../flue-gas.ts';
import type { DerivedKey, BlankReason } from '../../measurement/derived.ts';

/** What the single topics need; `put` takes slopes with respect to O2 and applies the chain rule when CO2 was measured. */
export type FigureParts = {
  readonly fuel: Fuel;
  readonly o2: number;
  /** 0 when CO is not known; `hasCo` tells */
  readonly coPpm: number;
  readonly hasCo: boolean;
  readonly stackC: number | undefined;
  readonly airC: number | undefined;
  readonly pressurePa: number;
  readonly humidityKgPerKg: number;
  readonly missing: Missing | undefined;
  readonly gas: FlueGas;
  readonly slopes: FlueGasSlopes;
  readonly put: (
    key: DerivedKey,
    value: number,
    o2: number,
    co: number,
    stack: number,
    air: number,
    hydrogen: number,
    points?: number,
  ) => void;
  readonly blank: (key: DerivedKey, reason: BlankReason) => void;
};

export type Missing = {
  readonly o2?: BlankReason | undefined;
  readonly co?: BlankReason | undefined;
  readonly stack?: BlankReason | undefined;
  readonly air?: BlankReason | undefined;
};

import { drawNumber } from './draw.ts';
import { readPartChange, type AmountName, type InletGas, type PartChange, type SwitchName } from './parts.ts';
import type { Scenario, ScenarioEvent } from './scenario.ts';

/** Something to change and when. Amounts move to their value in a straight line over `overMs`. */
export type Change = { readonly atMs: number; readonly overMs: number } & (
  | { readonly what: PartChange }
  | { readonly what: { readonly kind: 'adjust'; readonly name: string; readonly value: number } }
);

/** What stands at the moment. Mutable, owned by one burner. */
export interface Standing {
  readonly amounts: Record<AmountName, number>;
  readonly switches: Record<SwitchName, boolean>;
  readonly positions: { shutter: number; band: number };
  inlet: InletGas | undefined;
}

/** Applies changes in the order of their times; a change acts from the first step that begins at or after its time. */
export function createTimeline(
  standing: Standing,
  adjust: (name: string, value: number) => void,
): {
  add(change: Change): void;
  /** takes back what was to come after this time: a hand on the valve ends the scripted round of gases */
  forget(kind: Change['what']['kind'], afterMs: number): void;
  applyUntil(timeMs: number): void;
} {
  let waiting: Change[] = [];
  let ramps: { name: AmountName; from: number; to: number; startMs: number; endMs: number }[] = [];

  const apply = (change: Change): void => {
    const { what } = change;
    if (what.kind === 'adjust') adjust(what.name, what.value);
    else if (what.kind === 'switch') standing.switches[what.name] = what.on;
    else if (what.kind === 'inlet') standing.inlet = what.gas;
    else {
      ramps = ramps.filter((ramp) => ramp.name !== what.name);
      if (change.overMs > 0)
        ramps.push({
          name: what.name,
          from: standing.amounts[what.name],
          to: what.value,
          startMs: change.atMs,
          endMs: change.atMs + change.overMs,
        });
      else standing.amounts[what.name] = what.value;
    }
  };
  return {
    add: (change) => {
      // stable: of two changes for one time, the one that was asked for later wins
      const index = waiting.findIndex((other) => other.atMs > change.atMs);
      waiting.splice(index < 0 ? waiting.length : index, 0, change);
    },
    forget: (kind, afterMs) => {
      waiting = waiting.filter(({ what, atMs }) => what.kind !== kind || atMs <= afterMs);
    },
    applyUntil: (timeMs) => {
      while (waiting[0] && waiting[0].atMs <= timeMs) {
        apply(waiting[0]);
        waiting = waiting.slice(1);
      }
      for (const ramp of ramps) {
        const share = Math.min(1, (timeMs - ramp.startMs) / (ramp.endMs - ramp.startMs));
        standing.amounts[ramp.name] = ramp.from + share * (ramp.to - ramp.from);
      }
      if (ramps.length > 0) ramps = ramps.filter((ramp) => timeMs < ramp.endMs);
    },
  };
}

/** @returns an event with its ranges drawn; @throws RangeError when a scenario asks for a part that does not exist or a value of the wrong kind */
export function changeFromEvent(event: ScenarioEvent, index: number, seed: number, scenario: Scenario): Change {
  const path = `${scenario.name} event ${index}`;
  const atMs = Math.round(drawNumber(event.atS, seed, `${path} at`) * 1000);
  if ('adjust' in event)
    return { atMs, overMs: 0, what: { kind: 'adjust', name: event.adjust, value: drawNumber(event.value, seed, `${path} value`) } };
  const { value } = event;
  const drawn = typeof value === 'object' && 'from' in value ? drawNumber(value, seed, `${path} value`) : value;
  const what = readPartChange(event.part, drawn);
  if (what.kind === 'refused') throw new RangeError(`scenario ${scenario.name}, event ${index + 1}: ${what.why}`);
  return { atMs, overMs: event.overS * 1000, what };
}

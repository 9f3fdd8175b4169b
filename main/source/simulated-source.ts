/** The simulated burner as a source: it writes text lines, and its bytes take the same path as an instrument's. */
import { createBurner } from '../../shared/burner/burner.ts';
import type { Adjuster, Burner } from '../../shared/burner/burner-interface.ts';
import { LineShape } from '../../shared/burner/scenario.ts';
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';
import type { Clock } from '../../shared/clock.ts';
import type { GeometryLeft } from '../../shared/measurement/geometry-left.ts';
import type { Setting } from '../../shared/measurement/mark.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { simulatedRecipe } from './simulated-recipe.ts';
import { textBytes, type LineSource, type SourceEvent } from './source.ts';
import { sourceTexts } from '../../shared/words/host.ts';
import { defined } from '../../shared/defined.ts';

export interface SimulatedSource extends LineSource {
  /** how its lines are read */
  readonly recipe: LineRecipe;
  adjusters(): readonly Adjuster[];
  isFiring(): boolean;
  adjust(name: string, value: number): Result<number, Problem>;
  /** everything that a setting says: the adjusters that this burner has, and the stage */
  set(setting: Setting): void;
  /** how electrodes, nozzle and head stand now */
  setGeometry(left: GeometryLeft): void;
  setPart(part: string, value: number | boolean | string, overMs?: number): Result<null, Problem>;
  /** as they stand now */
  parts(): ReturnType<Burner['parts']>;
  look(): { smoke: { number: number; oilTrace: boolean }[]; overFirePa: number; breechPa: number };
}

export type SimulatedChoice = { scenario: string; seed: number; shape: string; ratePerSecond: number; geometry?: GeometryLeft | undefined };

const TICK_MS = 100;
const SPOTS = 3;
/** a burner that went on without anybody watching is caught up with, but not for longer than this */
const MOST_CATCH_UP_MS = 2 * 3_600_000;

/** @param startAtMs burner time at which the stream begins; more than 0 when an interrupted run goes on */
export function createSimulatedSource(choice: SimulatedChoice, clock: Clock, startAtMs = 0): Result<SimulatedSource, Problem> {
  const scenario = findScenario(choice.scenario);
  if (!scenario.ok) return scenario;
  const shape = LineShape.safeParse(choice.shape);
  if (!shape.success) return err(problem('request-invalid', sourceTexts.noLineShape(choice.shape)));
  const { geometry = scenario.value.geometry } = choice;
  const burner = createBurner({
    scenario: { ...scenario.value, geometry },
    seed: choice.seed,
    shape: shape.data,
    ratePerSecond: choice.ratePerSecond,
  });
  const offsetMs = Math.min(startAtMs, MOST_CATCH_UP_MS);
  if (offsetMs > 0) burner.advanceTo(offsetMs);
  let zeroMs = 0;
  let stopTicking: (() => void) | undefined;
  const burnerMs = (): number => clock.nowMs() - zeroMs + offsetMs;

  return ok({
    info: {
      kind: 'simulated',
      scenario: choice.scenario,
      title: scenario.value.title,
      seed: choice.seed,
      shape: shape.data,
      ratePerSecond: choice.ratePerSecond,
      ...defined({ geometry: choice.geometry }),
    },
    recipe: simulatedRecipe(shape.data, burner.channels, burner.header),
    start(listener: (event: SourceEvent) => void) {
      zeroMs = clock.nowMs();
      listener({ kind: 'opened', atMs: zeroMs });
      const tick = (): void => {
        // each line is stamped when it was due, so that a fast clock's coarse ticks do not blur the times
        for (const { timeMs, text } of burner.advanceTo(burnerMs())) {
          listener({ kind: 'bytes', atMs: zeroMs + Math.max(0, timeMs - offsetMs), bytes: textBytes(text + burner.terminator) });
        }
      };
      tick();
      stopTicking = clock.every(TICK_MS, tick);
    },
    stop() {
      stopTicking?.();
      return Promise.resolve();
    },
    adjusters: () => burner.adjusters(),
    isFiring: () => burner.isFiring(),
    adjust: (name, value) => burner.setAdjuster(name.toLowerCase(), value, burnerMs()),
    set({ positions, stage }) {
      for (const { name, value } of positions) burner.setAdjuster(name.toLowerCase(), value, burnerMs());
      burner.setStage(stage, burnerMs());
    },
    setGeometry: (left) => burner.setGeometry(left),
    setPart: (part, value, overMs = 0) => burner.setPart(part, value, burnerMs(), overMs),
    parts: () => burner.parts(),
    look() {
      const atMs = burnerMs();
      const smoke = Array.from({ length: SPOTS }, () => burner.smokeSpot(atMs)).map(({ number, oilTrace }) => ({ number, oilTrace }));
      return { smoke, ...burner.draft(atMs) };
    },
  });
}

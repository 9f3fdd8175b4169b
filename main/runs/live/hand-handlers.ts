/** Commands of somebody's hands: marks, readings, typed values, fuel, and the knobs of the simulated burner and of a replay. */
import { inletName } from '../../../shared/burner/parts.ts';
import { co2MaxRefusal } from '../../../shared/combustion/co2-max.ts';
import { findFuel } from '../../../shared/combustion/fuel.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import type { SimulatedSource } from '../../source/simulated-source.ts';
import type { OpenRuns, RunHandlers } from '../open-runs.ts';
import { runsTexts } from '../../../shared/words/host.ts';
import { defined } from '../../../shared/defined.ts';

export type HandHandlers = Pick<
  RunHandlers,
  | 'run.mark'
  | 'run.editMark'
  | 'run.takeReading'
  | 'run.typeValues'
  | 'run.change'
  | 'simulator.adjust'
  | 'simulator.part'
  | 'simulator.parts'
  | 'simulator.look'
  | 'replay.control'
>;

const notSimulated = problem('request-invalid', runsTexts.notSimulated);

export function handHandlers({ parts, infoOf, changed, live }: OpenRuns): HandHandlers {
  function withSimulator(
    runId: string,
    change: (simulated: SimulatedSource) => Result<unknown, Problem>,
  ): Result<Record<string, never>, Problem> {
    const entry = live(runId);
    if (!entry.ok) return entry;
    const { simulated } = entry.value.special;
    if (simulated === undefined) return err(notSimulated);
    const done = change(simulated);
    if (!done.ok) return done;
    changed(runId);
    return ok({});
  }

  return {
    'run.mark'({ runId, body, timeMs, setsSimulator }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { run, special } = entry.value;
      const now = run.timeMs();
      const mark: Mark = { id: parts.newId(), timeMs: Math.min(Math.max(timeMs ?? now, 0), now), body };
      if (setsSimulator === true && body.kind === 'adjustment') special.simulated?.set(body.setting);
      run.record({ kind: 'mark', mark });
      changed(runId);
      return Promise.resolve(ok(mark));
    },

    'run.editMark'({ runId, edit }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { run } = entry.value;
      if (!run.fold.marks.some(({ id }) => id === edit.markId)) return Promise.resolve(err(problem('not-found', runsTexts.noSuchMark)));
      run.record({ kind: 'edit', edit });
      changed(runId);
      return Promise.resolve(ok({}));
    },

    'run.takeReading'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { run } = entry.value;
      const readingId = parts.newId();
      run.record({ kind: 'take', readingId });
      const taken = run.fold.lastTaken;
      return Promise.resolve(taken?.id === readingId ? ok(taken) : err(problem('no-samples')));
    },

    'run.typeValues'({ runId, values }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { typed } = entry.value.special;
      if (typed === undefined) return Promise.resolve(err(problem('request-invalid', runsTexts.notTyped)));
      if (Object.keys(values).length === 0) return Promise.resolve(err(problem('value-missing')));
      typed.type(values);
      return Promise.resolve(ok({}));
    },

    'run.change'({ runId, fuelId, co2MaxPercent, typedAirC }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      if (fuelId !== undefined && findFuel(fuelId) === undefined) return Promise.resolve(err(problem('fuel-unknown', fuelId)));
      const fuel = findFuel(fuelId ?? infoOf(entry.value).fuelId);
      const refusal = fuel === undefined || typeof co2MaxPercent !== 'number' ? undefined : co2MaxRefusal(fuel, co2MaxPercent);
      if (refusal !== undefined) return Promise.resolve(err(problem('value-out-of-range', refusal)));
      entry.value.run.record({
        kind: 'change',
        change: defined({ fuelId, co2MaxPercent, typedAirC }),
      });
      changed(runId);
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    'simulator.adjust'({ runId, name, value }) {
      return Promise.resolve(withSimulator(runId, (simulated) => simulated.adjust(name, value)));
    },

    'simulator.part'({ runId, part, value, overS = 0 }) {
      return Promise.resolve(withSimulator(runId, (simulated) => simulated.setPart(part, value, overS * 1000)));
    },

    'simulator.parts'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { simulated } = entry.value.special;
      if (simulated === undefined) return Promise.resolve(err(notSimulated));
      const { inlet, amounts, switches } = simulated.parts();
      return Promise.resolve(ok({ amounts: { ...amounts }, switches: { ...switches }, inlet: inletName(inlet) }));
    },

    'simulator.look'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { simulated } = entry.value.special;
      return Promise.resolve(simulated === undefined ? err(notSimulated) : ok(simulated.look()));
    },

    'replay.control'({ runId, ...change }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { replay } = entry.value.special;
      if (replay === undefined) return Promise.resolve(err(problem('request-invalid', runsTexts.notReplay)));
      replay.control(change);
      return Promise.resolve(ok({}));
    },
  };
}

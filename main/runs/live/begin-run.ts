/** From the user's choice to a source that can be started, with what goes into the run's header about it. */
import { access } from 'node:fs/promises';
import type { Clock } from '../../../shared/clock.ts';
import type { PortInfo, SourceChoice } from '../../../shared/ipc/run-documents.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { RunHeader, SourceInfo } from '../../../shared/measurement/run.ts';
import { typedRecipe } from '../../../shared/pipeline/typed-line.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { createSerialSource, type SerialSource } from '../../source/serial-source.ts';
import type { OpenPort } from '../../source/serial-port.ts';
import { createSimulatedSource, type SimulatedSource } from '../../source/simulated-source.ts';
import { createTypedSource, type TypedSource } from '../../source/typed-source.ts';
import { runsTexts } from '../../../shared/words/host.ts';

/** A port that is plugged in again has its name again, where ports are files. */
const isThere =
  process.platform === 'win32'
    ? undefined
    : (path: string): Promise<boolean> =>
        access(path).then(
          () => true,
          () => false,
        );

export type BegunSource =
  | { kind: 'serial'; source: SerialSource; recipe: undefined }
  | { kind: 'simulated'; source: SimulatedSource; recipe: LineRecipe }
  | { kind: 'typed'; source: TypedSource; recipe: LineRecipe };

export type BeginParts = { readonly clock: Clock; readonly openPort: OpenPort; readonly listPorts: () => Promise<PortInfo[]> };
export type LiveChoice = Exclude<SourceChoice, { kind: 'replay' }>;

/** A port is opened here, so that "busy" or "not there" is the answer to the request and not a run that never began. */
export async function beginSource(choice: LiveChoice, { clock, openPort, listPorts }: BeginParts): Promise<Result<BegunSource, Problem>> {
  switch (choice.kind) {
    case 'simulated': {
      const source = createSimulatedSource(choice, clock);
      return source.ok ? ok({ kind: 'simulated', source: source.value, recipe: source.value.recipe }) : source;
    }
    case 'typed':
      return ok({ kind: 'typed', source: createTypedSource(clock), recipe: typedRecipe });
    case 'serial': {
      const opened = await openPort(choice.path, choice.settings);
      if (!opened.ok) return opened;
      const known = (await listPorts().catch(() => [])).find(({ path }) => path === choice.path);
      const source = createSerialSource({
        ...choice,
        label: known?.label ?? choice.path,
        device: known?.device,
        clock,
        openPort,
        listPorts,
        isThere,
        port: opened.value,
      });
      return ok({ kind: 'serial', source, recipe: undefined });
    }
  }
}

/** The same source again, for a run that was interrupted. */
export function resumeSource(info: SourceInfo, { clock, openPort, listPorts }: BeginParts, atMs: number): Result<BegunSource, Problem> {
  switch (info.kind) {
    case 'simulated': {
      const choice = {
        scenario: info.scenario,
        seed: info.seed,
        shape: info.shape,
        ratePerSecond: info.ratePerSecond ?? 1,
        geometry: info.geometry,
      };
      const source = createSimulatedSource(choice, clock, atMs);
      return source.ok ? ok({ kind: 'simulated', source: source.value, recipe: source.value.recipe }) : source;
    }
    case 'typed':
      return ok({ kind: 'typed', source: createTypedSource(clock), recipe: typedRecipe });
    case 'serial':
      return ok({
        kind: 'serial',
        source: createSerialSource({ ...info, device: info.device, clock, openPort, listPorts, isThere }),
        recipe: undefined,
      });
    case 'replay':
      return err(problem('request-invalid', runsTexts.replayEnds));
  }
}

/** @returns what a list shows a replayed run as */
export const replayOf = (header: RunHeader): Extract<SourceInfo, { kind: 'replay' }> => ({
  kind: 'replay',
  runId: header.runId,
  label:
    header.source.kind === 'serial'
      ? header.source.label
      : header.source.kind === 'simulated'
        ? header.source.title
        : 'typed from the display',
  of: header.source.kind === 'replay' ? header.source.of : header.source.kind,
});

import { err, ok, type Result } from '../../result.ts';
import { problem, type Problem } from '../../problem.ts';
import { z } from 'zod';
import { Scenario, type ScenarioInput } from '../scenario.ts';
import { burnerFaultScenarios } from './burner-faults.ts';
import { instrumentFaultScenarios } from './instrument-faults.ts';
import { ordinaryScenarios } from './ordinary.ts';
import { surroundingsFaultScenarios } from './surroundings-faults.ts';
import { burnerTexts } from '../../words/core/burner.ts';
import { plainRefusal } from '../../plain-refusal.ts';

const inputs: readonly ScenarioInput[] = [
  ...ordinaryScenarios,
  ...burnerFaultScenarios,
  ...surroundingsFaultScenarios,
  ...instrumentFaultScenarios,
];

export const defaultScenario = 'tune-up';

/** Name, title and one or two sentences of every built-in scenario, the default first. */
export const scenarioList: readonly { readonly name: string; readonly title: string; readonly about: string }[] = inputs.map(
  ({ name, title, about }) => ({ name, title, about }),
);

/** @returns the built-in scenario with its defaults filled in */
export function findScenario(name: string): Result<Scenario, Problem> {
  const input = inputs.find((scenario) => scenario.name === name);
  if (!input) return err(problem('not-found', burnerTexts.noScenario(name)));
  return ok(Scenario.parse(input));
}

/** Reads the text of a scenario file. */
export function readScenario(text: string): Result<Scenario, Problem> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return err(problem('file-foreign', burnerTexts.notJson));
  }
  const head = z.object({ format: z.literal('flueside-scenario'), version: z.number() }).safeParse(value);
  if (!head.success) return err(problem('file-foreign', burnerTexts.noScenarioFile));
  if (head.data.version > 1) return err(problem('file-newer'));
  const scenario = Scenario.safeParse(value);
  return scenario.success ? ok(scenario.data) : err(problem('file-damaged', plainRefusal(scenario.error)));
}

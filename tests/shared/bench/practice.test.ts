import { expect, it } from 'vitest';
import { practiceScenarios } from '../../../shared/bench/practice-scenarios.ts';
import { instrumentFaultScenarios } from '../../../shared/burner/scenarios/instrument-faults.ts';

it('every simulated instrument can be practised on, the one in good order first', () => {
  expect(practiceScenarios[0]).toBe('bench-healthy');
  expect([...practiceScenarios].sort()).toEqual(instrumentFaultScenarios.map(({ name }) => name).sort());
});

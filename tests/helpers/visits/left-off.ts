import { safetyTests } from '../../../shared/tuning/safety/safety-plan.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import type { SafetyResult } from '../../../shared/tuning/safety/safety-result.ts';

/** What signing asks for when the burner is not safe to leave running. */
export const leftOff: NonNullable<Visit['notLeftRunning']> = { wallMs: 1, leftOff: true, redTagged: true, ownerTold: 'B. Owner' };

/** Every test that an appliance without a boiler needs, made and passed. */
export const passedSafety = (wallMs: number): SafetyResult[] =>
  safetyTests.filter(({ optional }) => optional === undefined).map(({ id }) => ({ test: id, result: 'pass', wallMs }));

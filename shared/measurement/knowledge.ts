/**
 * What a run has taught about an appliance and its instrument, small enough for a file: slow constant, its share of a change and the time constants of
 * the sensors, each with how sure it is. Used as a prior for the banks of a later run, never as a fact: a run that contradicts it wins.
 */
import { z } from 'zod';
import { settlingChannels } from './channel.ts';
import { err, ok, type Result } from '../result.ts';
import { problem, type Problem } from '../problem.ts';
import { measurementTexts } from '../words/core/measurement.ts';

export const KNOWLEDGE_FORMAT = 'flueside-knowledge';
export const KNOWLEDGE_VERSION = 1;

/** Mean and standard deviation; of a time constant in its natural logarithm (s). */
const Known = z.strictObject({ mean: z.number(), sd: z.number().positive() });
export type Known = z.infer<typeof Known>;
const KnownChannel = z.strictObject({
  first: Known.optional(),
  sensor: Known,
  share: Known.optional(),
  /** s from a change at the inlet until the answer begins, from a bench test */
  dead: Known.optional(),
});
export type KnownChannel = z.infer<typeof KnownChannel>;

export const SettlingKnowledge = z.strictObject({
  format: z.literal(KNOWLEDGE_FORMAT),
  version: z.literal(KNOWLEDGE_VERSION),
  /** only what was learned on such an appliance is used on one */
  appliance: z.literal('pressure-atomizing oil burner'),
  /** wall time of the newest run in it; undefined where the run does not say */
  learnedWallMs: z.number().optional(),
  /** 0 where only a bench test is behind it */
  visits: z.number().int().min(0),
  /** wall time of the bench test from which the constants of the cells come */
  benchWallMs: z.number().optional(),
  channels: z.partialRecord(z.enum(settlingChannels), KnownChannel),
});
export type SettlingKnowledge = z.infer<typeof SettlingKnowledge>;

/** Visits that are named beside what they taught. */
export const APPLIANCE_KNOWLEDGE_MOST = 50;

/** What is stored of an appliance, under its id, with the visits that taught it; or of an instrument, with its newest bench test. */
export const ApplianceKnowledge = z.strictObject({
  visitIds: z.array(z.string().max(100)).max(APPLIANCE_KNOWLEDGE_MOST),
  knowledge: SettlingKnowledge,
});
export type ApplianceKnowledge = z.infer<typeof ApplianceKnowledge>;

/** @returns knowledge from its text, or why it is left aside */
export function readKnowledge(text: string): Result<SettlingKnowledge, Problem> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return err(problem('file-damaged', measurementTexts.knowledgeUnreadable));
  }
  const head = z.object({ format: z.literal(KNOWLEDGE_FORMAT), version: z.number(), appliance: z.string() }).safeParse(value);
  if (!head.success) return err(problem('file-damaged', measurementTexts.noKnowledge));
  if (head.data.version > KNOWLEDGE_VERSION) return err(problem('file-newer', measurementTexts.knowledgeNewer));
  const appliance = SettlingKnowledge.shape.appliance.safeParse(head.data.appliance);
  if (!appliance.success) return err(problem('file-foreign', measurementTexts.knowledgeOfOther));
  const known = SettlingKnowledge.safeParse(value);
  return known.success ? ok(known.data) : err(problem('file-damaged', measurementTexts.knowledgeDamaged));
}

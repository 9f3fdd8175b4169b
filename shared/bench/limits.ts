import { z } from 'zod';
import { DecisionRule } from '../measurement/decision-rule.ts';
import { BenchChannel } from './instrument.ts';

/** What one channel may be off by. Absolute parts in the channel's unit; the larger of absolute and relative counts. */
export const ChannelLimits = z.strictObject({
  channel: BenchChannel,
  errorAbsolute: z.number().positive().optional(),
  /** part of the reference, 0.05 = 5 % */
  errorRelative: z.number().positive().optional(),
  /** standard deviation of 20 readings, as a part of the error limit */
  repeatabilityPart: z.number().positive().optional(),
  /** worst departure from the line, % of the span gas */
  linearityPercentOfSpan: z.number().positive().optional(),
  /** change of zero or span during the test, % of the span gas */
  stabilityPercentOfSpan: z.number().positive().optional(),
  /** reading of an interferent, as a part of the error limit */
  crossEffectPart: z.number().positive().optional(),
  t90S: z.number().positive().optional(),
  source: z.string().min(1).max(300),
});
export type ChannelLimits = z.infer<typeof ChannelLimits>;

export const BenchLimits = z.strictObject({
  format: z.literal(1),
  name: z.string().min(1).max(120),
  date: z.string().max(10),
  decisionRule: DecisionRule,
  lines: z.array(ChannelLimits).min(1).max(24),
  /** shipped as an example to copy */
  example: z.boolean().optional(),
});
export type BenchLimits = z.infer<typeof BenchLimits>;

/** @returns half-width of what a reading may be off at this reference; undefined when the card does not say */
export function errorLimit({ errorAbsolute, errorRelative }: ChannelLimits, reference: number): number | undefined {
  if (errorAbsolute === undefined && errorRelative === undefined) return undefined;
  return Math.max(errorAbsolute ?? 0, (errorRelative ?? 0) * Math.abs(reference));
}

/** Cards as published, to copy and edit. None is chosen by itself. */
export const exampleLimits: readonly BenchLimits[] = [
  {
    format: 1,
    name: 'Stationary CO and NO systems, initial',
    date: '2013',
    decisionRule: 'guarded-acceptance',
    example: true,
    lines: (['co', 'no'] as const).map((channel) => ({
      channel,
      errorAbsolute: 2,
      errorRelative: 0.05,
      repeatabilityPart: 1 / 3,
      crossEffectPart: 0.5,
      t90S: 240,
      source: 'OIML R 144-1:2013 (intrinsic error, repeatability, cross-effect, response)',
    })),
  },
  {
    format: 1,
    name: 'Stationary CO and NO systems, in service',
    date: '2013',
    decisionRule: 'guarded-acceptance',
    example: true,
    lines: (['co', 'no'] as const).map((channel) => ({
      channel,
      errorAbsolute: 5,
      errorRelative: 0.1,
      repeatabilityPart: 1 / 3,
      crossEffectPart: 0.5,
      t90S: 240,
      source: 'OIML R 144-1:2013 (error in service)',
    })),
  },
  {
    format: 1,
    name: 'Portable electrochemical instruments',
    date: '1997',
    decisionRule: 'simple',
    example: true,
    lines: [
      {
        channel: 'o2',
        errorAbsolute: 0.5,
        linearityPercentOfSpan: 2.5,
        stabilityPercentOfSpan: 2,
        source: 'US EPA CTM-030 (span error, linearity, stability)',
      },
      {
        channel: 'co',
        errorAbsolute: 2,
        errorRelative: 0.05,
        linearityPercentOfSpan: 2.5,
        stabilityPercentOfSpan: 2,
        source: 'US EPA CTM-030 (span error 5 % of span gas, linearity, stability); 2 ppm at zero: common practice',
      },
    ],
  },
  {
    format: 1,
    name: 'Portable instruments, usual tolerances',
    date: '',
    decisionRule: 'guarded-acceptance',
    example: true,
    lines: [
      { channel: 'o2', errorAbsolute: 0.3, t90S: 50, source: 'common practice; type the standard that binds here' },
      { channel: 'co', errorAbsolute: 10, errorRelative: 0.05, t90S: 90, source: 'common practice; type the standard that binds here' },
    ],
  },
];

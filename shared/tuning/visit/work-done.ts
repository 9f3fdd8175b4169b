import { z } from 'zod';
import { WallMs } from '../../wall-clock.ts';

export const workKinds = [
  'nozzle',
  'filter',
  'strainer',
  'gasket',
  'passages',
  'electrodes',
  'regulator',
  'fan',
  'chamber',
  'detector',
  'part',
  'other',
] as const;
export type WorkKind = (typeof workKinds)[number];
export const WorkItem = z.object({
  wallMs: WallMs,
  kind: z.enum(workKinds),
  note: z.string().max(300).optional(),
  part: z.string().max(60).optional(),
});
export type WorkItem = z.infer<typeof WorkItem>;

/** `not-safe` decides like a failed safety test: the burner is not left running. */
export const defectWeights = ['advice', 'repair-soon', 'not-safe'] as const;
export type DefectWeight = (typeof defectWeights)[number];
export const Defect = z.object({
  wallMs: WallMs,
  text: z.string().min(1).max(300),
  weight: z.enum(defectWeights),
  tag: z.string().max(40).optional(),
});
export type Defect = z.infer<typeof Defect>;

export const toldHow = ['in-person', 'by-phone', 'in-writing'] as const;
export const OwnerTold = z.object({ wallMs: WallMs, whom: z.string().min(1).max(120), how: z.enum(toldHow) });
export type OwnerTold = z.infer<typeof OwnerTold>;

/** The draft gauge, the drafts and the regulator, before the air is touched. */
export const WarmUp = z.object({
  gaugeZeroedWallMs: WallMs.optional(),
  regulator: z.enum(['set-and-free', 'left-as-found', 'none']).optional(),
});
export type WarmUp = z.infer<typeof WarmUp>;

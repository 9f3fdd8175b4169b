import type { FieldSpan, RejectReason } from '../../measurement/line.ts';
import type { Sample } from '../../measurement/sample.ts';
import type { IgnoredWhy } from './extraction.ts';

/** What became of one line. */
export type LineRead =
  | { kind: 'sample'; sample: Sample; spans?: FieldSpan[] }
  /** a line of a cycle whose sample is not complete */
  | { kind: 'part' }
  | { kind: 'ignored'; why: IgnoredWhy }
  | { kind: 'rejected'; reason: RejectReason; detail: string };

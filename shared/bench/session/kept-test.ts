/**
 * A bench test between what was measured and what the disk holds, as a pure reducer: what a command may do to it in which phase, and what
 * follows when the disk takes or refuses it. Nothing is called saved or signed before the disk has it.
 */
import { problem, type Problem, type ProblemCode } from '../../problem.ts';
import { nextStepIndex, type BenchTest } from '../bench-test.ts';

export type KeptPhase =
  /** the disk holds what is here */
  | 'saved'
  /** what is here is on its way to the disk */
  | 'saving'
  /** the disk refused it: an alarm stands until it is taken, and it is tried again */
  | 'unsaved'
  /** the disk holds it with its signature: nothing changes it any more, and it is not written again */
  | 'signed';

/** What the disk gave or took: a body with its number and time. */
export type Stored = { readonly revision: number; readonly changedMs: number; readonly body: BenchTest };
export type KeptTest = Stored & { readonly phase: KeptPhase };

export type KeptHappening =
  /** a step or a person changed it */
  | { readonly kind: 'changed'; readonly body: BenchTest }
  /** the disk has this body now; what was changed since has a save of its own */
  | ({ readonly kind: 'taken' } & Stored)
  | { readonly kind: 'refused'; readonly why: Problem }
  | ({ readonly kind: 'signed' } & Stored)
  /** the records were replaced, and it is not in them any more */
  | { readonly kind: 'gone' };

export type KeptDeed =
  | { readonly kind: 'save' | 'clear-alarm' | 'try-again' | 'tell' }
  | { readonly kind: 'raise-alarm'; readonly problem: Problem };

type Next = { readonly test: KeptTest; readonly deeds: readonly KeptDeed[] };

export const keptOf = (stored: Stored): KeptTest => ({ ...stored, phase: stored.body.signature === undefined ? 'saved' : 'signed' });

/** Why nothing of it can be changed. */
export const whyUnchangeable = ({ phase }: KeptTest): ProblemCode | undefined => (phase === 'signed' ? 'bench-signed' : undefined);

/** Why it cannot be signed as it is now. */
export function whyUnsignable({ phase, body }: KeptTest): ProblemCode | undefined {
  if (phase === 'unsaved') return 'bench-unsaved';
  if (phase === 'signed') return 'bench-signed';
  if (body.watermark !== undefined) return 'bench-not-signable';
  if (body.status === 'open' && nextStepIndex(body) < body.plan.steps.length) return 'bench-open';
  return undefined;
}

/** The disk holds all of it, so that it need not be kept here as well. */
export const isOnDisk = ({ phase }: KeptTest): boolean => phase === 'saved' || phase === 'signed';

export function nextKept(test: KeptTest, what: KeptHappening): Next {
  const alarmEnds: KeptDeed[] = test.phase === 'unsaved' ? [{ kind: 'clear-alarm' }] : [];
  // a save that was under way beside the signature has nothing to say any more
  if (test.phase === 'signed') return { test, deeds: [] };
  switch (what.kind) {
    case 'changed':
      return {
        test: { ...test, body: what.body, phase: test.phase === 'unsaved' ? 'unsaved' : 'saving' },
        deeds: [{ kind: 'save' }],
      };
    case 'taken': {
      const { body, revision, changedMs } = what;
      return {
        test: { ...test, revision, changedMs, phase: body === test.body ? 'saved' : 'saving' },
        deeds: [...alarmEnds, { kind: 'tell' }],
      };
    }
    case 'refused': {
      const detail = `${test.body.instrument.name}: ${what.why.detail ?? what.why.code}`;
      return {
        test: { ...test, phase: 'unsaved' },
        deeds: [{ kind: 'raise-alarm', problem: problem('bench-unsaved', detail) }, { kind: 'try-again' }, { kind: 'tell' }],
      };
    }
    case 'signed': {
      const { body, revision, changedMs } = what;
      return { test: { body, revision, changedMs, phase: 'signed' }, deeds: [...alarmEnds, { kind: 'tell' }] };
    }
    case 'gone':
      return { test, deeds: alarmEnds };
  }
}

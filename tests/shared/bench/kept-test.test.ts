/** A bench test between what was measured and what the disk holds, as a reducer: happenings in, phase and deeds out. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import {
  isOnDisk,
  keptOf,
  nextKept,
  whyUnchangeable,
  whyUnsignable,
  type KeptDeed,
  type KeptHappening,
  type KeptTest,
} from '../../../shared/bench/session/kept-test.ts';
import { closedTest } from '../../../shared/bench/session/test-changes.ts';
import { problem } from '../../../shared/problem.ts';
import { practiceTest } from './run-plan.ts';

const { watermark: _, ...measured } = practiceTest();
const first: BenchTest = measured;
const second: BenchTest = { ...first, adjustment: 'zeroed' };
const third: BenchTest = { ...first, adjustment: 'zeroed; span' };
const signedBody: BenchTest = { ...second, signature: { name: 'B. Tester', wallMs: 5 } };
const start = keptOf({ revision: 1, changedMs: 10, body: first });

const changed = (body: BenchTest): KeptHappening => ({ kind: 'changed', body });
const taken = (body: BenchTest, revision = 2): KeptHappening => ({ kind: 'taken', body, revision, changedMs: 20 });
const refused: KeptHappening = { kind: 'refused', why: problem('disk-full') };
const signed: KeptHappening = { kind: 'signed', body: signedBody, revision: 3, changedMs: 30 };

/** @returns the test, and what the last happening asks for */
function after(...happenings: KeptHappening[]): { test: KeptTest; deeds: string[] } {
  let test = start;
  let deeds: readonly KeptDeed[] = [];
  for (const one of happenings) ({ test, deeds } = nextKept(test, one));
  return { test, deeds: deeds.map(({ kind }) => kind) };
}

describe('saved is what the disk holds', () => {
  it('a change is on its way until the disk has it, and is told then', () => {
    expect(after(changed(second))).toEqual({ test: { ...start, body: second, phase: 'saving' }, deeds: ['save'] });
    const done = after(changed(second), taken(second));
    expect(done).toEqual({ test: { revision: 2, changedMs: 20, body: second, phase: 'saved' }, deeds: ['tell'] });
    expect([start, after(changed(second)).test, done.test].map(isOnDisk)).toEqual([true, false, true]);
  });
  it('what was changed while the disk took the one before is not saved yet', () => {
    const { test } = after(changed(second), changed(third), taken(second));
    expect(test).toMatchObject({ body: third, revision: 2, phase: 'saving' });
    expect(after(changed(second), changed(third), taken(second), taken(third, 3)).test.phase).toBe('saved');
  });
  it('a refusal is an alarm with the name of the instrument, which stays until the disk takes it', () => {
    const { deeds } = nextKept(after(changed(second)).test, refused);
    expect(deeds).toEqual([
      { kind: 'raise-alarm', problem: problem('bench-unsaved', 'Instrument 3: disk-full') },
      { kind: 'try-again' },
      { kind: 'tell' },
    ]);
    // the next change does not make it saved
    expect(after(changed(second), refused, changed(third))).toMatchObject({ test: { phase: 'unsaved' }, deeds: ['save'] });
    expect(after(changed(second), refused, taken(second))).toMatchObject({ test: { phase: 'saved' }, deeds: ['clear-alarm', 'tell'] });
    expect(isOnDisk(after(changed(second), refused).test)).toBe(false);
  });
  it('a test that is not in the records any more takes its alarm along', () => {
    expect(after(changed(second), refused, { kind: 'gone' }).deeds).toEqual(['clear-alarm']);
    expect(after(changed(second), { kind: 'gone' }).deeds).toEqual([]);
  });
});

describe('signed is signed', () => {
  it('nothing changes it, saves it or raises an alarm for it any more', () => {
    const { test, deeds } = after(signed);
    expect(deeds).toEqual(['tell']);
    for (const late of [changed(third), taken(third), refused, signed]) expect(nextKept(test, late)).toEqual({ test, deeds: [] });
    expect(whyUnchangeable(test)).toBe('bench-signed');
    expect(whyUnchangeable(start)).toBeUndefined();
    expect(keptOf({ revision: 3, changedMs: 30, body: signedBody }).phase).toBe('signed');
  });
  it('an alarm of a save that the signature overtook ends with it', () => {
    expect(after(changed(second), refused, signed).deeds).toEqual(['clear-alarm', 'tell']);
  });
  it('is granted to what is saved, measured and at its end', () => {
    expect(whyUnsignable(start)).toBe('bench-open');
    const closed = keptOf({ ...start, body: closedTest(7)(first) });
    expect(whyUnsignable(closed)).toBeUndefined();
    expect(whyUnsignable(nextKept(closed, refused).test)).toBe('bench-unsaved');
    expect(whyUnsignable(keptOf({ ...start, body: { ...closed.body, watermark: 'simulated' } }))).toBe('bench-not-signable');
    expect(whyUnsignable(after(signed).test)).toBe('bench-signed');
  });
});

describe('whatever happens, in any order', () => {
  const happening = fc.constantFrom(changed(second), changed(third), taken(second), taken(third), refused, signed);
  it('an alarm stands exactly while it is unsaved, and saved means that the disk has this very body', () => {
    fc.assert(
      fc.property(fc.array(happening, { maxLength: 20 }), (happenings) => {
        let test = start;
        let alarm = false;
        let onDisk: BenchTest = first;
        for (const one of happenings) {
          const wasSigned = test.phase === 'signed';
          const next = nextKept(test, one);
          for (const { kind } of next.deeds) alarm = kind === 'raise-alarm' || (alarm && kind !== 'clear-alarm');
          if (!wasSigned && (one.kind === 'taken' || one.kind === 'signed')) onDisk = one.body;
          test = next.test;
          expect(alarm).toBe(test.phase === 'unsaved');
          if (isOnDisk(test)) expect(test.body).toBe(onDisk);
        }
      }),
    );
  });
});

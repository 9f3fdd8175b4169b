/**
 * The hash of a signed bench test. It shows that a file was changed by accident or by another program; whoever can write the file can
 * also write a new hash, so it is no proof against forgery, and the words on screen and paper say so.
 */
import { createHash } from 'node:crypto';
import { signedText, type BenchTest } from '../../shared/bench/bench-test.ts';

export const hashOfTest = (test: BenchTest): string => createHash('sha256').update(signedText(test)).digest('hex');

/** Signed, and no longer what was signed. A test of an earlier version has no hash to be held against. */
export const isAltered = (test: BenchTest): boolean => test.signature?.hash !== undefined && test.signature.hash !== hashOfTest(test);

// Real counts out of vitest's JSON report, and the line that the whole test ends with.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';

/**
 * @param path where vitest wrote its JSON report
 * @param code how vitest ended
 * @returns {{ passed: number, failed: number, skipped: number, broken: string[], tests: { file: string, name: string, seconds: number }[] }} a file that could not even be loaded counts as one failure
 */
export function countResults(path, code) {
  let report;
  try {
    report = JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return { passed: 0, failed: 1, skipped: 0, tests: [], broken: ['the test program itself ended before it could report'] };
  }
  const broken = report.testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && !assertionResults.some((test) => test.status === 'failed'),
  );
  let failed = report.numFailedTests + broken.length;
  // an error outside of any test must not be lost
  if (code !== 0 && failed === 0) failed = 1;
  return {
    passed: report.numPassedTests,
    failed,
    skipped: report.numPendingTests + report.numTodoTests,
    broken: broken.map(({ name, message }) => `${name}: ${message}`),
    tests: report.testResults.flatMap(({ name, assertionResults }) =>
      assertionResults.map(({ fullName, duration }) => ({ file: basename(name), name: fullName, seconds: (duration ?? 0) / 1000 })),
    ),
  };
}

export const addCounts = (counts) =>
  counts.reduce(
    (sum, { passed, failed, skipped }) => ({ passed: sum.passed + passed, failed: sum.failed + failed, skipped: sum.skipped + skipped }),
    { passed: 0, failed: 0, skipped: 0 },
  );

export const lastLine = ({ passed, failed, skipped }) => `${passed} passed, ${failed} failed${skipped === 0 ? '' : `, ${skipped} skipped`}`;

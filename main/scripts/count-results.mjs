// Real counts out of vitest's JSON report, and the line that the whole test ends with.
import { readFileSync } from 'node:fs';

/**
 * @param path where vitest wrote its JSON report
 * @param code how vitest ended
 * @returns {{ passed: number, failed: number, skipped: number, broken: string[] }} a file that could not even be loaded counts as one failure
 */
export function countResults(path, code) {
  let report;
  try {
    report = JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return { passed: 0, failed: 1, skipped: 0, broken: ['the test program itself ended before it could report'] };
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
  };
}

export const addCounts = (counts) =>
  counts.reduce(
    (sum, { passed, failed, skipped }) => ({ passed: sum.passed + passed, failed: sum.failed + failed, skipped: sum.skipped + skipped }),
    { passed: 0, failed: 0, skipped: 0 },
  );

export const lastLine = ({ passed, failed, skipped }) => `${passed} passed, ${failed} failed${skipped === 0 ? '' : `, ${skipped} skipped`}`;

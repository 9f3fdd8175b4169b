import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { runChild } from './child.mjs';
import { countResults } from './count-results.mjs';
import { root } from './install.mjs';

/**
 * Runs vitest with one of our configurations.
 *
 * @param options.show prints what vitest says as it comes
 * @returns {Promise<{ passed: number, failed: number, skipped: number, broken: string[], output: string }>}
 */
export async function runVitest(name, config, args = [], { show = false, limitMs = 40 * 60_000 } = {}) {
  const report = join(root, 'dist', 'reports', `${name}.json`);
  mkdirSync(join(root, 'dist', 'reports'), { recursive: true });
  rmSync(report, { force: true });
  const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const { code, output, killed } = await runChild(process.execPath, [vitest, 'run', '-c', join(root, config), ...reporters, ...args], {
    cwd: root,
    capture: true,
    // a build before us, in this very process, leaves NODE_ENV=production behind, and React without its means for tests
    env: { ...process.env, NODE_ENV: 'test', NO_COLOR: '1' },
    onOutput: show ? (chunk) => process.stdout.write(chunk) : undefined,
    stillWorks: (ms) => (ms > limitMs ? `not done after ${limitMs / 60_000} minutes` : undefined),
  });
  return { ...countResults(report, code), output: killed === undefined ? output : `${output}\n${killed}` };
}

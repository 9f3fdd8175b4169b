// npm run lint: everything that is checked without running the app. Each check is a tool of node_modules that passes or fails as a whole.
import { join } from 'node:path';
import { runChild } from './child.mjs';
import { root } from './install.mjs';

/** name, program, arguments; the longest first */
export const checks = [
  // the compiler's own findings are among them: one reading of all sources for both
  ['lint and types', 'oxlint/bin/oxlint', ['--type-aware', '--type-check', '--deny-warnings', '--report-unused-disable-directives', '.']],
  ['looks', 'stylelint/bin/stylelint.mjs', ['renderer/**/*.css']],
  ['unused code', 'knip/bin/knip.js', ['--no-progress']],
  ['format', 'oxfmt/bin/oxfmt', ['--check']],
];

/** @returns a part of the test run: how the tool ended, and what it said */
export const tool = (path, args) => async () => {
  const { code, output, killed } = await runChild(process.execPath, [join(root, 'node_modules', ...path.split('/')), ...args], {
    cwd: root,
    capture: true,
    behind: true,
    stillWorks: (ms) => (ms > 40 * 60_000 ? 'not done after 40 minutes' : undefined),
  });
  return { failed: code === 0 ? 0 : 1, output: killed ?? output };
};

if (process.argv[1] === join(root, 'main', 'scripts', 'lint.mjs')) {
  let failed = 0;
  for (const [name, path, args] of checks) {
    const result = await tool(path, args)();
    failed += result.failed;
    console.log(`${name}: ${result.failed === 0 ? 'ok' : `FAILED\n${result.output}`}`);
  }
  process.exit(failed === 0 ? 0 : 1);
}

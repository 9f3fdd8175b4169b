// npm run journeys [-- NAME]: whole journeys through the built app in a real Chromium (and in Electron where its runtime is here).
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { bundleProgram, ensureMain, ensureRenderer, root } from './build-output.mjs';
import { endWithUs } from './child.mjs';
import { lastLine } from './count-results.mjs';
import { runVitest } from './run-vitest.mjs';

/** @returns {Promise<string | undefined>} the browser that the journeys look through */
export async function journeyBrowser() {
  const { installedBrowser } = await import(pathToFileURL(await bundleProgram('main/browser/open-window.ts')).href);
  return installedBrowser();
}

/** Without any Chromium the journeys cannot be tried: a gap on a laptop, a failure where it is somebody's job to have one. */
export async function runJourneys(args, options) {
  if ((await journeyBrowser()) === undefined) {
    const isCi = process.env.CI === 'true' || process.env.CI === '1';
    const why = 'no browser of the Chromium family is installed here';
    return { passed: 0, failed: isCi ? 1 : 0, skipped: 0, broken: isCi ? [why] : [], output: '', skippedWhy: isCi ? undefined : why };
  }
  return runVitest('journeys', join('tests', 'journeys.config.ts'), args, options);
}

if (process.argv[1] === join(root, 'main', 'scripts', 'journeys.mjs')) {
  endWithUs();
  await ensureMain();
  await ensureRenderer();
  const result = await runJourneys(process.argv.slice(2), { show: true });
  if (result.skippedWhy !== undefined) console.log(`Journeys skipped: ${result.skippedWhy}.`);
  console.log(lastLine(result));
  process.exit(result.failed === 0 ? 0 : 1);
}

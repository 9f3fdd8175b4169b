import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';

/**
 * One room of the source as one plain module. The test runner reads every imported name through an object: loops that run a million times take twice as
 * long by it.
 *
 * @param path from the root of the project
 */
export function bundled<Module>(path: string): Module {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-bundled-'));
  const outfile = join(folder, 'bundled.cjs');
  const entry = fileURLToPath(new URL(`../../${path}`, import.meta.url));
  buildSync({ entryPoints: [entry], outfile, bundle: true, platform: 'node', format: 'cjs', target: 'node20', logLevel: 'error' });
  const module = createRequire(import.meta.url)(outfile) as Module;
  rmSync(folder, { recursive: true });
  return module;
}

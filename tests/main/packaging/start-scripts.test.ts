import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ts from 'typescript';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const scripts = join(import.meta.dirname, '..', '..', '..', 'main', 'scripts');
const load = (name: string): Promise<unknown> => import(join(scripts, name));

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-scripts-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('npm start and npm test on a fresh clone', () => {
  it.each(['start.mjs', 'test.mjs'])('%s imports nothing that is not there before installing', (entry) => {
    const seen = new Set<string>();
    const walk = (name: string): void => {
      if (seen.has(name)) return;
      seen.add(name);
      const text = readFileSync(join(scripts, name), 'utf8');
      // static imports are loaded at once; `await import(...)` runs after installing
      const statics = ts
        .createSourceFile(name, text, ts.ScriptTarget.Latest)
        .statements.filter(ts.isImportDeclaration)
        .map(({ moduleSpecifier }) => (moduleSpecifier as ts.StringLiteral).text);
      for (const target of statics) {
        if (target.startsWith('./')) walk(target.slice(2));
        else expect(builtinModules).toContain(target.replace('node:', ''));
      }
    };
    walk(entry);
    expect(seen.size).toBeGreaterThan(2);
  });

  it.each([
    ['18.20.0', false],
    ['20.18.9', false],
    ['20.19.0', true],
    ['21.7.0', false],
    ['22.11.0', false],
    ['22.12.0', true],
    ['24.0.0', true],
  ])('Node %s fits: %s', async (version, fits) => {
    const { nodeComplaint } = (await load('install.mjs')) as { nodeComplaint: (version: string) => string | undefined };
    expect(nodeComplaint(version) === undefined).toBe(fits);
  });
});

describe("Electron's installer", () => {
  type Runtime = {
    fetchElectron: (options: { limitMs: number; silenceMs?: number; installer: string; memory: string }) => Promise<string | undefined>;
    failedLately: (nowMs: number, memory: string) => string | undefined;
  };
  const memory = () => join(folder, 'memory.json');
  const installer = (program: string): string => {
    const path = join(folder, 'install.cjs');
    writeFileSync(path, program);
    return path;
  };

  it('is given up when nothing arrives', async () => {
    const { fetchElectron } = (await load('electron-runtime.mjs')) as Runtime;
    const why = await fetchElectron({
      limitMs: 60_000,
      silenceMs: 600,
      installer: installer('setInterval(() => {}, 1000)'),
      memory: memory(),
    });
    expect(why).toBe('nothing arrived for 1 s');
  });

  it('goes on while bytes arrive, up to the limit', async () => {
    const { fetchElectron } = (await load('electron-runtime.mjs')) as Runtime;
    const slow = `const fs = require('node:fs'); setInterval(() => fs.appendFileSync(require('node:os').tmpdir() + '/download', 'x'.repeat(1000)), 50)`;
    const why = await fetchElectron({ limitMs: 2000, silenceMs: 900, installer: installer(slow), memory: memory() });
    expect(why).toBe('not done after 2 s');
  });

  it('that fails is remembered for 24 hours, with its reason', async () => {
    const { fetchElectron, failedLately } = (await load('electron-runtime.mjs')) as Runtime;
    const why = await fetchElectron({
      limitMs: 60_000,
      installer: installer(`console.error('TypeError: fetch failed'); process.exit(1)`),
      memory: memory(),
    });
    expect(why).toBe('fetch failed');
    const { failedMs } = JSON.parse(readFileSync(memory(), 'utf8')) as { failedMs: number };
    const hourMs = 3600_000;
    expect(failedLately(failedMs + 1000, memory())).toContain('less than an hour ago: fetch failed');
    expect(failedLately(failedMs + 23 * hourMs, memory())).toContain('23 h ago');
    expect(failedLately(failedMs + 24 * hourMs, memory())).toBeUndefined();
    // a clock that was set back must not forbid it for ever
    expect(failedLately(failedMs - hourMs, memory())).toBeUndefined();
  });
});

describe('the count at the end', () => {
  type Counting = {
    countResults: (path: string, code: number) => { passed: number; failed: number; skipped: number; broken: string[] };
    addCounts: (counts: { passed: number; failed: number; skipped: number }[]) => { passed: number; failed: number; skipped: number };
    lastLine: (counts: { passed: number; failed: number; skipped: number }) => string;
  };
  const report = (more: object): string => {
    const path = join(folder, 'report.json');
    writeFileSync(
      path,
      JSON.stringify({ numPassedTests: 5, numFailedTests: 0, numPendingTests: 0, numTodoTests: 0, testResults: [], ...more }),
    );
    return path;
  };

  it('is plain', async () => {
    const { lastLine, addCounts } = (await load('count-results.mjs')) as Counting;
    expect(lastLine({ passed: 3, failed: 0, skipped: 0 })).toBe('3 passed, 0 failed');
    expect(
      lastLine(
        addCounts([
          { passed: 3, failed: 1, skipped: 2 },
          { passed: 4, failed: 0, skipped: 0 },
        ]),
      ),
    ).toBe('7 passed, 1 failed, 2 skipped');
  });

  it('never calls a broken run green', async () => {
    const { countResults } = (await load('count-results.mjs')) as Counting;
    expect(countResults(report({}), 0)).toMatchObject({ passed: 5, failed: 0 });
    expect(countResults(join(folder, 'missing.json'), 0).failed).toBe(1);
    expect(countResults(report({}), 1).failed).toBe(1);
    const cannotLoad = { testResults: [{ status: 'failed', assertionResults: [], name: 'a.test.ts', message: 'no such module' }] };
    expect(countResults(report(cannotLoad), 1)).toMatchObject({ failed: 1, broken: ['a.test.ts: no such module'] });
    const failing = {
      numFailedTests: 1,
      testResults: [{ status: 'failed', assertionResults: [{ status: 'failed' }], name: 'a', message: '' }],
    };
    expect(countResults(report(failing), 1)).toMatchObject({ failed: 1, broken: [] });
  });
});

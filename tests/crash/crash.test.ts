import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { noPty } from '../helpers/ports/pty.ts';
import { killRounds } from './kill-rounds.ts';

describe.skipIf(noPty !== undefined)('kill -9 while capturing (short form of npm run crash)', () => {
  it('loses at most a second of lines and nothing that was acknowledged, and goes on in the same file', { timeout: 180_000 }, async () => {
    const scripts = pathToFileURL(join(process.cwd(), 'main', 'scripts', 'build-output.mjs')).href;
    const { bundleProgram } = (await import(/* @vite-ignore */ scripts)) as { bundleProgram: (entry: string) => Promise<string> };
    const report = await killRounds(await bundleProgram('tests/crash/crash-child.ts'), 3, 7);
    expect(report.problems).toEqual([]);
    expect(report.damagedLines).toBe(0);
    expect(report.mostMissing).toBeLessThanOrEqual(report.linesPerSecond);
    expect(report.lines).toBeGreaterThan(0);
    expect(report.gaps).toBeGreaterThanOrEqual(2); // rounds two and three went on
    expect(report.acknowledged).toBeGreaterThan(0);
    expect(report.acknowledgedLost).toBe(0);
  });
});

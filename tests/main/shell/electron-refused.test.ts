/** The desktop shell that is started with words it does not know: it says so, opens no window, and ends as refused. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { createFakeElectron } from './fake-electron.ts';

const folder = mkdtempSync(join(tmpdir(), 'flueside-refused-'));
const fake = createFakeElectron(folder);
vi.mock('electron', () => fake.electron);

const before = [...process.argv];
const said: string[] = [];

beforeAll(async () => {
  process.argv = ['electron', '.', '--data', folder, '--souce', 'none'];
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => said.push(String(text)) > 0);
  await import('../../../main/electron.ts');
  await vi.waitUntil(() => fake.questions.length === 1);
  fake.questions[0]?.answer(0);
  await vi.waitUntil(() => fake.calls.some((call) => call.startsWith('exit')));
});
afterAll(() => {
  process.argv = before;
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

it('says which word, in the terminal and in a box', () => {
  expect(said.join('')).toContain('--souce');
  expect(fake.questions[0]?.detail).toContain('--souce');
});
it('opens nothing and ends with the code of a wrong use', () => {
  expect(fake.windows).toEqual([]);
  expect(fake.calls).toContain('exit 2');
  expect(fake.calls.some((call) => call.startsWith('requestSingleInstanceLock'))).toBe(false);
});

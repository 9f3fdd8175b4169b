// @vitest-environment happy-dom
/** Copies of the records: a backup may be restored, the others are only there to be deleted, and nothing goes before it was asked. */
import { cleanup } from '@testing-library/react';
import { afterEach, expect, it, vi } from 'vitest';
import { Copies } from '../../../../renderer/views/records/upkeep/Copies.tsx';
import { copiesWords as words } from '../../../../shared/words/records/copies.ts';
import { button, inWindow, press, rowsOf, settled } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const copies = [
  { name: 'backup-1.zip', kind: 'backup', madeWallMs: Date.UTC(2026, 10, 3, 12), bytes: 2_340_000 },
  { name: 'before-restore-1', kind: 'before-restore', madeWallMs: Date.UTC(2026, 10, 2, 12), bytes: 999_001 },
  { name: 'damaged-1.db', kind: 'damaged', madeWallMs: Date.UTC(2026, 10, 1, 12), bytes: 12_001 },
] as const;

async function open(state: { role?: 'operator' | 'viewer'; busy?: boolean; list?: readonly unknown[] } = {}) {
  const restore = vi.fn();
  const seen = inWindow(
    <Copies round={0} busy={state.busy ?? false} restore={restore} />,
    { role: state.role ?? 'operator' },
    { 'copies.list': { copies: state.list ?? copies }, 'copies.remove': {} },
  );
  await settled();
  return { ...seen, restore };
}
const names = (): string[] => [...document.querySelectorAll('td button')].map((one) => one.getAttribute('aria-label') ?? '');

it('says of each what it is, its name and its size', async () => {
  await open();
  const [, ...rows] = rowsOf(words.title);
  expect(rows.map(([what, , size]) => [what, size])).toEqual(
    [
      ['Backupbackup-1.zip', '2.3\u2009MB'],
      ['What a restore replacedbefore-restore-1', '1\u2009000\u2009kB'],
      ['Damaged records, set asidedamaged-1.db', '13\u2009kB'],
    ].map(([what, size]) => [what, size!.replace(/\s/g, ' ')]),
  );
});
it('restores a backup and nothing else', async () => {
  const { restore } = await open();
  expect(names()).toEqual([words.restoreOf('backup-1.zip'), ...copies.map(({ name }) => words.removeOf(name))]);
  press(words.restoreOf('backup-1.zip'));
  expect(restore.mock.calls).toEqual([['backup-1.zip']]);
});
it('deletes one after it was asked, and reads the list again', async () => {
  const { asked } = await open();
  press(words.removeOf('damaged-1.db'));
  expect(document.body.textContent).toContain(words.sureAbout('damaged-1.db'));
  expect(asked.map(({ name }) => name)).toEqual(['copies.list']);
  document.querySelector<HTMLFormElement>('form')!.requestSubmit();
  await settled();
  expect(asked.map(({ name, input }) => [name, input])).toEqual([
    ['copies.list', {}],
    ['copies.remove', { name: 'damaged-1.db' }],
    ['copies.list', {}],
  ]);
  expect(document.body.textContent).not.toContain(words.sureAbout('damaged-1.db'));
});
it('is looked at by every window and changed by the one that works', async () => {
  await open({ role: 'viewer' });
  expect([words.restoreOf('backup-1.zip'), words.removeOf('backup-1.zip')].map((name) => button(name).disabled)).toEqual([true, true]);
});
it('is not restored while another copy is at work', async () => {
  await open({ busy: true });
  expect(button(words.restoreOf('backup-1.zip')).disabled).toBe(true);
});
it('says when there are none', async () => {
  const { page } = await open({ list: [] });
  expect(page.textContent).toContain(words.none);
  expect(page.querySelector('table')).toBeNull();
});

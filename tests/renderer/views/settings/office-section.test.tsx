// @vitest-environment happy-dom
/** Where visits are shared: what is typed is tried first, used on a press, and left on a press; the password goes its own way. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import { createAppStore, type AppState } from '../../../../renderer/state/store.ts';
import { OfficeSection } from '../../../../renderer/views/settings/OfficeSection.tsx';
import { OfficeChoice, type OfficeState } from '../../../../shared/ipc/office-commands.ts';
import { problem } from '../../../../shared/problem.ts';
import { problems } from '../../../../shared/words/problems.ts';
import { officeWords as words } from '../../../../shared/words/records/office.ts';
import { button, field, inWindow, press, settled, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const folder = OfficeChoice.parse({ kind: 'folder', folder: '/office' });
const server = OfficeChoice.parse({ kind: 'postgres', host: 'office.lan', user: 'van' });
const ready: OfficeState = { kind: 'folder', phase: 'ready', queued: 0, conflicts: 0, wrong: 0, keepsPassword: false };

function show(office: Partial<OfficeChoice>, answers: Record<string, unknown> = {}, state: Partial<AppState> = {}) {
  const changeSettings = vi.fn(() => Promise.resolve(true));
  function Section() {
    const parts = useParts();
    return (
      <AppContext value={{ ...parts, actions: { ...parts.actions, changeSettings } }}>
        <OfficeSection />
      </AppContext>
    );
  }
  const { settings } = createAppStore().getState();
  const made = inWindow(<Section />, { settings: { ...settings, office: OfficeChoice.parse(office) }, ...state }, answers);
  const sent = (name: string): unknown[] => made.asked.filter((one) => one.name === name).map(({ input }) => input);
  return { changeSettings, sent };
}
const said = (): string => screen.getByRole('status').textContent ?? '';
const pressed = async (name: string): Promise<void> => {
  press(name);
  await settled();
};
/** the section has the same name */
const kind = (): HTMLSelectElement => document.querySelector('select')!;
const labels = (): string[] => [...document.querySelectorAll('label')].map(({ textContent }) => textContent ?? '');

describe('what is asked for', () => {
  it('none: nothing but the choice', () => {
    show({});
    expect(labels()).toEqual([words.kind]);
    expect(document.querySelectorAll('button')).toHaveLength(0);
  });
  it('a folder: its path', () => {
    show({});
    fireEvent.change(kind(), { target: { value: 'folder' } });
    expect(labels()).toEqual([words.kind, words.folder, words.takesAll]);
  });
  it('a server: where it is, who, and how it is known to be the right one', () => {
    show(server);
    expect(labels()).toEqual([
      words.kind,
      words.host,
      words.port,
      words.database,
      words.user,
      words.certificate,
      words.password,
      words.withoutTls,
      words.takesAll,
    ]);
    expect([words.host, words.port, words.database, words.user].map((name) => field(name).value)).toEqual([
      'office.lan',
      '5432',
      'flueside',
      'van',
    ]);
    expect(field(words.password).type).toBe('password');
  });
  it.each([
    [false, words.passwordSession],
    [true, words.passwordKept],
  ])('says where the password is: kept %s', async (keepsPassword, where) => {
    show(server, { 'office.state': { ...ready, keepsPassword } });
    await settled();
    expect(screen.getByText(where)).toBeDefined();
  });
});

describe('trying it', () => {
  it('uses what is typed and changes nothing', async () => {
    const { changeSettings, sent } = show(server, { 'office.test': { name: 'Mill', items: 3 } });
    typeInto(words.host, 'h');
    typeInto(words.port, '6000');
    typeInto(words.database, 'd');
    typeInto(words.user, 'u');
    typeInto(words.certificate, '/c.pem');
    typeInto(words.password, 'secret');
    fireEvent.click(field(words.withoutTls));
    fireEvent.click(field(words.takesAll));
    await pressed(words.test);
    const choice = {
      ...server,
      host: 'h',
      port: 6000,
      database: 'd',
      user: 'u',
      certificateFile: '/c.pem',
      withoutTls: true,
      takesAll: true,
    };
    expect(sent('office.test')).toEqual([{ choice, password: 'secret' }]);
    expect(said()).toBe('The office "Mill" answers. It has 3 items.');
    expect(changeSettings).not.toHaveBeenCalled();
  });
  it('sends no password where none was typed', async () => {
    const { sent } = show(folder, { 'office.test': { name: 'Mill', items: 1 } });
    typeInto(words.folder, '/else');
    await pressed(words.test);
    expect(sent('office.test')).toEqual([{ choice: { ...folder, folder: '/else' } }]);
  });
  it('says what is wrong and what to do next', async () => {
    show(folder);
    await pressed(words.test);
    const { code } = problem('not-found');
    expect(said()).toBe([problems[code].title, problems[code].nextStep].filter(Boolean).join(' '));
  });
  it('says that it is under way, and waits for the answer', async () => {
    show(folder, { 'office.test': { name: 'Mill', items: 1 } });
    press(words.test);
    expect(said()).toBe(words.testing);
    for (const name of [words.test, words.use]) expect(button(name).disabled, name).toBe(true);
    await settled();
    expect(button(words.use).disabled).toBe(false);
  });
  it.each(['0', '65536', '1.5', 'x'])('asks nobody at the port "%s"', async (port) => {
    const { changeSettings, sent } = show(server);
    typeInto(words.port, port);
    await pressed(words.test);
    expect(said()).toBe(words.badPort(port));
    await pressed(words.use);
    expect(said()).toBe(words.badPort(port));
    expect(sent('office.test')).toEqual([]);
    expect(changeSettings).not.toHaveBeenCalled();
  });
});

describe('using and leaving it', () => {
  it('saves the choice, and the password apart from it', async () => {
    const { changeSettings, sent } = show(server);
    typeInto(words.password, 'secret');
    await pressed(words.use);
    expect(changeSettings).toHaveBeenCalledExactlyOnceWith({ office: server });
    expect(sent('office.password')).toEqual([{ password: 'secret' }]);
    expect(said()).toBe('');
  });
  it('leaves the password that is known when none was typed', async () => {
    const { sent } = show(server);
    await pressed(words.use);
    expect(sent('office.password')).toEqual([]);
  });
  it('leaves the office and forgets the password', async () => {
    const { changeSettings, sent } = show(folder, { 'office.state': ready });
    await settled();
    await pressed(words.stop);
    expect(changeSettings).toHaveBeenCalledExactlyOnceWith({ office: { ...folder, kind: 'none' } });
    expect(sent('office.password')).toEqual([{ password: '' }]);
    expect(kind().value).toBe('none');
  });
  it('sends and fetches at once on a press', async () => {
    const { sent } = show(folder, { 'office.state': ready });
    await settled();
    await pressed(words.sync);
    expect(sent('office.sync')).toEqual([{}]);
  });
  it('a window that may only look does none of it', async () => {
    show(folder, { 'office.state': ready }, { role: 'viewer' });
    await settled();
    for (const name of [words.test, words.use, words.sync, words.stop]) expect(button(name).disabled, name).toBe(true);
  });
});

describe('how it stands', () => {
  it('says what waits, what is wrong, and when it was last in step', async () => {
    const state: OfficeState = {
      ...ready,
      phase: 'waiting',
      queued: 2,
      wrong: 1,
      clockAheadMs: 600_000,
      lastWallMs: Date.UTC(2026, 2, 12, 12),
      problem: problem('office-unreachable'),
    };
    show(folder, { 'office.state': state });
    await settled();
    const page = document.body.textContent ?? '';
    for (const part of [
      words.phases.waiting,
      words.queued(2),
      problems['office-unreachable'].title,
      words.clockOff(600_000),
      words.wrong(1),
    ])
      expect(page).toContain(part);
    expect(page).toMatch(/Last sent and fetched: [^.]*2026/);
  });
  it('says no more than that when all is well', async () => {
    show(folder, { 'office.state': ready });
    await settled();
    expect(screen.getByText(`${words.phases.ready} ${words.queued(0)}`)).toBeDefined();
    expect(document.body.textContent).not.toMatch(/Last sent and fetched|could not be used|clock/);
  });
  it('says nothing before one is used', async () => {
    show({}, { 'office.state': { ...ready, kind: 'none', phase: 'off' } });
    await settled();
    expect(document.body.textContent).not.toContain(words.phases.off);
  });
});

import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSettings, SETTINGS_FILE } from '../../../main/settings/settings-file.ts';
import { writeWhole } from '../../../main/store/files.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-settings-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const open = () => openSettings(folder, createFakeClock());
const path = () => join(folder, SETTINGS_FILE);

describe('settings', () => {
  it('are the printed ones at the first start, and nothing is written until they change', () => {
    expect(open().current()).toEqual(Settings.parse({}));
    expect(readdirSync(folder)).toEqual([]);
  });

  it('are there again after a change', () => {
    const settings = open();
    expect(settings.change({ theme: 'dark', technician: { name: 'A. Tester', licence: '' } }).ok).toBe(true);
    expect(open().current()).toEqual({ ...Settings.parse({}), theme: 'dark', technician: { name: 'A. Tester', licence: '' } });
    expect(readdirSync(folder)).toEqual([SETTINGS_FILE]);
  });

  it.each([
    { what: 'cut off', text: '{"theme": "da' },
    { what: 'of another kind', text: '[1, 2]' },
    { what: 'empty', text: '' },
    { what: 'nothing', text: 'null' },
    { what: 'a figure', text: '5' },
    { what: 'a text', text: '"dark"' },
    { what: 'binary', text: '\u0000\u0001' },
  ])('that are $what are set aside whole and said so', ({ text }) => {
    writeFileSync(path(), text);
    const settings = open();
    expect(settings.atStart?.code).toBe('settings-damaged');
    expect(settings.current()).toEqual(Settings.parse({}));
    const [aside] = readdirSync(folder);
    // 1 760 000 000 000 ms is 2025-10-09T08:53:20Z (date -u -d @1760000000)
    expect(aside).toBe('settings.damaged-2025-10-09T08-53-20Z.json');
    expect(readFileSync(join(folder, aside ?? ''), 'utf8')).toBe(text);
  });

  it('keep what is right beside what is wrong', () => {
    writeFileSync(path(), JSON.stringify({ theme: 'purple', units: 'metric', technician: { name: 'A. Tester' }, fromNewerVersion: 1 }));
    const settings = open();
    expect(settings.current()).toMatchObject({ theme: 'system', units: 'metric', technician: { name: 'A. Tester' } });
    expect(settings.atStart?.code).toBe('settings-damaged');
  });

  it('of a newer version lose only what is not known here', () => {
    writeFileSync(path(), JSON.stringify({ units: 'metric', fromNewerVersion: 1 }));
    const settings = open();
    expect(settings.atStart).toBeUndefined();
    expect(settings.current().units).toBe('metric');
  });

  it('stay as they were when they cannot be written', () => {
    const settings = open();
    settings.change({ theme: 'dark' });
    // a folder in the file's place: the rename fails, for root too
    rmSync(path());
    mkdirSync(path());
    expect(settings.change({ theme: 'light' })).toMatchObject({ ok: false });
    expect(settings.current().theme).toBe('dark');
    expect(readdirSync(folder)).toEqual([SETTINGS_FILE]);
  });
});

describe('writing a file whole', () => {
  it('leaves the old one when it fails half-way, and no rest', () => {
    const target = join(folder, 'a.json');
    writeWhole(target, 'old');
    expect(() => writeWhole(join(folder, 'nowhere', 'a.json'), 'new')).toThrow();
    const failing = {
      toString: () => {
        throw new Error('no text');
      },
    } as unknown as string;
    expect(() => writeWhole(target, failing)).toThrow();
    expect(readFileSync(target, 'utf8')).toBe('old');
    expect(readdirSync(folder)).toEqual(['a.json']);
  });
});

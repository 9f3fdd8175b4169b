import { describe, expect, it } from 'vitest';
import { dataFolder, isCopiedElsewhere } from '../../../main/paths.ts';

describe('the data folder', () => {
  it.each([
    { platform: 'linux', env: {}, folder: '/home/someone/.local/share/flueside' },
    { platform: 'linux', env: { XDG_DATA_HOME: '/data' }, folder: '/data/flueside' },
    // "all paths set in these environment variables must be absolute; a relative one is to be ignored" (XDG Base Directory Specification 0.8)
    { platform: 'linux', env: { XDG_DATA_HOME: 'data' }, folder: '/home/someone/.local/share/flueside' },
    { platform: 'darwin', env: {}, folder: '/home/someone/Library/Application Support/Flueside' },
  ] as const)('on $platform with $env is $folder', ({ platform, env, folder }) => {
    expect(dataFolder({ platform, env, home: '/home/someone' })).toBe(folder);
  });

  it('on Windows is the local one, which does not travel with the account', () => {
    expect(dataFolder({ platform: 'win32', env: { LOCALAPPDATA: 'C:\\local' }, home: 'C:\\someone' })).toMatch(/^C:\\local.Flueside$/);
  });
});

it.each([
  ['/home/someone/Dropbox/flueside', true],
  ['C:\\someone\\OneDrive - Burners\\flueside', true],
  ['/home/someone/Library/Mobile Documents/flueside', true],
  ['/home/someone/.local/share/flueside', false],
])('%s is copied elsewhere: %s', (folder, copied) => {
  expect(isCopiedElsewhere(folder)).toBe(copied);
});

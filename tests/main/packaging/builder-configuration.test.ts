import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const require = createRequire(import.meta.url);
const root = join(import.meta.dirname, '..', '..', '..');

type Icon = string;
type Configuration = {
  asarUnpack: string[];
  files: string[];
  electronFuses: Record<string, boolean>;
  fileAssociations: { ext: string; icon: Icon }[];
  win: { target: { target: string; arch: string[] }[]; icon: Icon; extraFiles: { from: string; to: string }[] };
  mac: { target: { target: string }[]; icon: Icon; extraResources: { from: string; to: string }[] };
  linux: { target: { target: string }[]; icon: Icon; extraFiles: { from: string; to: string }[] };
};

/** js-yaml comes with electron-builder, which reads the file with it. */
const load = (): Configuration => {
  const yaml = require(require.resolve('js-yaml', { paths: [require.resolve('app-builder-lib')] })) as { load: (text: string) => unknown };
  return yaml.load(readFileSync(join(root, 'electron-builder.yml'), 'utf8')) as Configuration;
};

/** The same check that electron-builder makes before it builds: internal, which is why its version is pinned. */
async function validate(configuration: unknown): Promise<void> {
  const { validateConfiguration } = require(join(root, 'node_modules/app-builder-lib/out/util/config/config.js')) as {
    validateConfiguration: (configuration: unknown, logger: unknown) => Promise<void>;
  };
  const { DebugLogger } = require(require.resolve('builder-util', { paths: [require.resolve('app-builder-lib')] })) as {
    DebugLogger: new (isEnabled: boolean) => unknown;
  };
  await validateConfiguration(configuration, new DebugLogger(false));
}

describe('electron-builder.yml', () => {
  it('is what electron-builder takes', async () => {
    await expect(validate(load())).resolves.toBeUndefined();
  });

  it('would be refused with a misspelt key: the check can fail', async () => {
    await expect(validate({ ...load(), asarUnpak: [] })).rejects.toThrow(/asarUnpak/);
  });

  it('makes what each system needs', () => {
    const { win, mac, linux } = load();
    expect(win.target.map(({ target }) => target)).toEqual(['nsis', 'portable']);
    expect(mac.target.map(({ target }) => target)).toEqual(['dmg', 'zip']);
    expect(linux.target.map(({ target }) => target)).toEqual(['AppImage', 'deb']);
  });

  it('turns off what would let others run code in our name (Electron fuses)', () => {
    expect(load().electronFuses).toMatchObject({
      runAsNode: false,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      grantFileProtocolExtraPrivileges: false,
    });
  });

  it('unpacks every package that brings a native part', () => {
    const { asarUnpack } = load();
    const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
      packages: Record<string, { dev?: boolean; devOptional?: boolean; os?: string[]; hasInstallScript?: boolean }>;
    };
    const native = Object.entries(lock.packages).filter(
      ([path, { dev, devOptional, os, hasInstallScript }]) =>
        path !== '' && !dev && !devOptional && (os !== undefined || hasInstallScript === true),
    );
    expect(native.map(([path]) => path)).toEqual(
      expect.arrayContaining(['node_modules/@serialport/bindings-cpp', 'node_modules/@photostructure/sqlite']),
    );
    const covered = (path: string) =>
      asarUnpack.some((pattern) => `${path}/`.startsWith(pattern.replace(/^\*\*\//, '').replace(/\*\*$/, '')));
    expect(native.map(([path]) => path).filter((path) => !covered(path))).toEqual([]);
  });

  it('leaves out no package that stays outside the bundle', () => {
    const left = load().files.filter((pattern) => pattern.startsWith('!node_modules/'));
    const names = left.flatMap((pattern) => /\{(.*)\}/.exec(pattern)?.[1]?.split(',') ?? [pattern.split('/')[1] ?? '']);
    for (const name of names) expect(['serialport', '@serialport', '@photostructure', 'node-gyp-build']).not.toContain(name);
  });

  it('opens runs and recipes by a double click, with the endings that the app uses', async () => {
    const { RUN_FILE_ENDING } = await import('../../../main/runs/file/run-path.ts');
    const { RECIPE_FILE_ENDING } = await import('../../../main/shell/shell-arguments.ts');
    expect(load().fileAssociations.map(({ ext }) => `.${ext}`)).toEqual([RUN_FILE_ENDING, RECIPE_FILE_ENDING]);
  });

  it('names files that are there', () => {
    const { win, mac, linux, fileAssociations } = load();
    const files = [
      win.icon,
      mac.icon,
      ...fileAssociations.flatMap(({ icon }) => [`${icon}.ico`, `${icon}.icns`]),
      ...win.extraFiles.map(({ from }) => from),
      ...mac.extraResources.map(({ from }) => from),
      ...linux.extraFiles.map(({ from }) => from),
    ];
    expect(files.filter((file) => !existsSync(join(root, file)))).toEqual([]);
    for (const size of [16, 32, 48, 64, 128, 256, 512]) expect(existsSync(join(root, linux.icon, `${size}x${size}.png`))).toBe(true);
  });
});

describe('the console launchers', () => {
  const read = (name: string): string => readFileSync(join(root, 'main/resources/console', name), 'utf8');

  it('start the command line and hand its exit code on', () => {
    expect(read('flueside-cli.cmd')).toMatch(/"%~dp0Flueside\.exe" --cli %\*\r\nexit \/b %ERRORLEVEL%/);
    expect(read('flueside-cli-linux')).toMatch(/^exec .* --cli "\$@"$/m);
    expect(read('flueside-cli-mac')).toMatch(/^exec .*MacOS\/Flueside" --cli "\$@"$/m);
  });
});

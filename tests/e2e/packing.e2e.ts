/**
 * electron-builder packs the app for this computer's system and processor, with a runtime that is none: what lies in the package is looked
 * at, and the command line is run out of its archive by plain Node. The real runtime, its fuses and installers need a network (see
 * main/shell/NOTES.md). No cheaper test shows: what electron-builder really puts into a package, and that the packed command line runs.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const require = createRequire(import.meta.url);
type Builder = {
  build(options: unknown): Promise<string[]>;
  Platform: { LINUX: { createTarget(type: string, arch: number): unknown } };
  Arch: { x64: number; arm64: number };
};
type Asar = { listPackage(path: string, options: { isPack: boolean }): string[]; extractAll(path: string, folder: string): void };

const processor = process.env['FLUESIDE_PACK_ARCH'] ?? process.arch;
let folder = '';
let resources = '';

/** Only the names that electron-builder moves about; a program of this name ends at once. */
function runtimeOfNone(): string {
  const dist = join(folder, 'runtime');
  mkdirSync(join(dist, 'resources'), { recursive: true });
  mkdirSync(join(dist, 'locales'));
  writeFileSync(join(dist, 'locales', 'en-US.pak'), '');
  for (const name of ['electron', 'chrome-sandbox', 'chrome_crashpad_handler'])
    writeFileSync(join(dist, name), '#!/bin/sh\nexit 0\n', { mode: 0o755 });
  for (const name of ['LICENSE', 'LICENSES.chromium.html', 'version', 'resources.pak']) writeFileSync(join(dist, name), '');
  return dist;
}

describe.skipIf(process.platform !== 'linux')(`the package for linux ${processor}`, () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'flueside-packing-'));
    const builder = require('electron-builder') as Builder;
    const yaml = require(require.resolve('js-yaml', { paths: [require.resolve('app-builder-lib')] })) as { load: (text: string) => object };
    const config = yaml.load(readFileSync(resolve('electron-builder.yml'), 'utf8'));
    const dist = runtimeOfNone();
    // as a file of its own: an object would be merged with electron-builder.yml, which is found by itself
    const file = join(folder, 'builder.json');
    const directories = { output: join(folder, 'out'), buildResources: 'main/resources' };
    // fuses are bits inside the real program
    writeFileSync(file, JSON.stringify({ ...config, electronDist: dist, electronFuses: null, directories }));
    await builder.build({
      targets: builder.Platform.LINUX.createTarget('dir', builder.Arch[processor as 'x64' | 'arm64']),
      config: file,
    });
    const out = readdirSync(join(folder, 'out')).find((name) => name.endsWith('unpacked')) ?? '';
    resources = join(folder, 'out', out, 'resources');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const listed = () =>
    (require(require.resolve('@electron/asar', { paths: [require.resolve('app-builder-lib')] })) as Asar)
      .listPackage(join(resources, 'app.asar'), { isPack: false })
      .map((path) => path.replaceAll('\\', '/'));

  it('has the native parts for its own processor, outside the archive, and no other', () => {
    const natives = (path: string): string[] =>
      (readdirSync(join(resources, 'app.asar.unpacked', path), { recursive: true }) as string[]).filter((name) => name.endsWith('.node'));
    const store = natives('node_modules/@photostructure/sqlite/prebuilds');
    expect(store.length).toBeGreaterThan(0);
    expect(store.filter((name) => !name.startsWith(`linux-${processor}/`))).toEqual([]);
    const ports = natives('node_modules/@serialport/bindings-cpp/prebuilds');
    expect(ports.length).toBeGreaterThan(0);
    expect(ports.filter((name) => !name.startsWith(`linux-${processor}/`))).toEqual([]);
    // the ELF header says whom a file is for (System V ABI, e_machine at byte 18: 62 x86-64, 183 AArch64)
    const machine = { x64: 62, arm64: 183 }[processor as 'x64' | 'arm64'];
    const all = natives('node_modules').map((name) =>
      readFileSync(join(resources, 'app.asar.unpacked/node_modules', name)).readUInt16LE(18),
    );
    expect(new Set(all)).toEqual(new Set([machine]));
  });

  it('has the built app of now, and neither sources, maps, tests nor parts of earlier builds', () => {
    const paths = listed();
    expect(paths).toEqual(
      expect.arrayContaining(['/dist/main/electron.mjs', '/dist/main/preload.cjs', '/dist/renderer/index.html', '/package.json']),
    );
    expect(
      paths.filter((path) => !path.startsWith('/node_modules/') && /\.(ts|tsx|map)$|\/tests\/|shell-commonjs|fake-electron/.test(path)),
    ).toEqual([]);
    expect(paths.filter((path) => /^\/node_modules\/(react|electron|vite|esbuild|typescript)(\/|$)/.test(path))).toEqual([]);
  });

  it.skipIf(processor !== process.arch)('runs the command line out of its archive', () => {
    const open = join(folder, 'open');
    const asar = require(require.resolve('@electron/asar', { paths: [require.resolve('app-builder-lib')] })) as Asar;
    asar.extractAll(join(resources, 'app.asar'), open);
    const run = (...words: string[]): string =>
      execFileSync(process.execPath, [join(open, 'dist/main/cli.mjs'), ...words], { encoding: 'utf8', cwd: folder });
    const figures = JSON.parse(run('compute', '--fuel', 'no2', '--o2', '4', '--stack-c', '200', '--air-c', '20', '--json')) as object;
    expect(figures).toHaveProperty('efficiency_hhv_pct');
    expect(run('ports', '--json')).toContain('ports');
  });

  it('carries the launcher of the command line beside the program', () => {
    expect(existsSync(join(resources, '..', 'flueside-cli'))).toBe(true);
    expect(readFileSync(join(resources, '..', 'flueside-cli'), 'utf8')).toContain('--cli');
  });
});

describe('a target for which a native part is missing', () => {
  it('is refused in words', async () => {
    const { checkNatives } = (await import(resolve('main/scripts/check-natives.mjs'))) as {
      checkNatives: (system: string, processor: string, modules?: string) => void;
    };
    for (const processor of ['x64', 'arm64'])
      for (const system of ['linux', 'darwin', 'win32']) expect(() => checkNatives(system, processor)).not.toThrow();
    expect(() => checkNatives('win32', 'ia32')).toThrow('@photostructure/sqlite has no native part for win32-ia32');
    expect(() => checkNatives('linux', 'x64', '/nowhere')).toThrow(/could not open the records there/);
  });
});

// Builds what is stale, silently. Everything that runs the app goes through here, so nobody runs old output.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const stampFile = (part) => join(root, 'dist', `.stamp-${part}`);

/** what the type check and a running build leave beside the sources: an app that is in use is not built anew for them */
const isLeftByTools = (name) => name.endsWith('.tsbuildinfo') || name.includes('.timestamp-');

function listSources(folder, found = []) {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) listSources(path, found);
    else if (!isLeftByTools(entry.name)) found.push(path);
  }
  return found;
}

/** Changes when a source file is added, removed or edited; cheap enough for every command (sizes and times only). */
export function sourceStamp(folders, under = root) {
  const hash = createHash('sha256');
  for (const folder of folders) {
    for (const path of listSources(join(under, folder)).sort()) {
      const { size, mtimeMs } = statSync(path);
      hash.update(`${path}\0${size}\0${mtimeMs}\n`);
    }
  }
  hash.update(readFileSync(join(root, 'package.json')));
  return hash.digest('hex');
}

const isFresh = (part, stamp) => existsSync(stampFile(part)) && readFileSync(stampFile(part), 'utf8') === stamp;
function remember(part, stamp) {
  mkdirSync(join(root, 'dist'), { recursive: true });
  writeFileSync(stampFile(part), stamp);
}

const THREAD = 'background-thread.cjs';

export const nodeBundle = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  sourcemap: true,
  packages: 'bundle',
  // native parts and what Electron itself supplies stay outside the bundle
  external: ['electron', 'serialport', '@serialport/*', '@photostructure/sqlite', 'pg-native'],
  logLevel: 'silent',
  // without it React brings its checks for developers along: a report's pages took three times as long
  define: { 'process.env.NODE_ENV': '"production"' },
  // read and compiled at every start: two thirds of the bytes; names stay, so that a stack can be read
  minifyWhitespace: true,
  minifySyntax: true,
  banner: { js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);" },
};

/**
 * Builds main (cli.mjs, node.mjs, electron.mjs) and the preload when their sources changed.
 *
 * @param options.anew builds in any case and leaves nothing of earlier builds: what an installer packs
 */
export async function ensureMain({ anew = false } = {}) {
  const stamp = sourceStamp(['main', 'shared']);
  if (isFresh('main', stamp) && !anew) return;
  const { build } = await import('esbuild');
  const entries = ['cli', 'node', 'electron'].filter((name) => existsSync(join(root, 'main', `${name}.ts`)));
  const main = await build({
    ...nodeBundle,
    write: false,
    entryPoints: Object.fromEntries(entries.map((name) => [name, join('main', `${name}.ts`)])),
    outdir: 'dist/main',
    outExtension: { '.js': '.mjs' },
    splitting: true,
    chunkNames: 'chunks/[name]-[hash]',
  });
  const preload = await build({
    ...nodeBundle,
    write: false,
    banner: {},
    format: 'cjs',
    entryPoints: ['main/preload.ts'],
    outfile: 'dist/main/preload.cjs',
  });
  const thread = await build({ ...threadBundle, write: false, outfile: `dist/main/${THREAD}` });
  writeBundles([...main.outputFiles, ...preload.outputFiles, ...thread.outputFiles], anew ? 0 : 24 * 3600_000);
  remember('main', stamp);
}

/**
 * A program that is starting, or one that runs and loads a part later, must never find half of a build: the parts (named by their content) come
 * first, the entries last and each at once; parts of earlier builds stay for a day (`keepMs`).
 */
function writeBundles(files, keepMs) {
  const chunks = join(root, 'dist', 'main', 'chunks');
  mkdirSync(chunks, { recursive: true });
  const isEntry = ({ path }) => !path.startsWith(chunks);
  for (const { path, contents } of [...files].sort((a, b) => Number(isEntry(a)) - Number(isEntry(b)))) {
    const temporary = `${path}.${process.pid}`;
    writeFileSync(temporary, contents);
    renameSync(temporary, path);
  }
  const current = new Set(files.map(({ path }) => path));
  for (const name of readdirSync(chunks)) {
    const path = join(chunks, name);
    if (!current.has(path) && Date.now() - statSync(path).mtimeMs >= keepMs) rmSync(path, { force: true });
  }
}

/** Builds the window when its sources changed: beside the old one, then exchanged. */
export async function ensureRenderer() {
  const stamp = sourceStamp(['renderer', 'shared']);
  if (isFresh('renderer', stamp)) return;
  const { build } = await import('vite');
  const [built, fresh, old] = ['renderer', `.renderer-new-${process.pid}`, `.renderer-old-${process.pid}`].map((name) =>
    join(root, 'dist', name),
  );
  await build({ configFile: join(root, 'renderer', 'vite.config.ts'), logLevel: 'error', build: { outDir: fresh } });
  if (existsSync(built)) renameSync(built, old);
  renameSync(fresh, built);
  rmSync(old, { recursive: true, force: true });
  remember('renderer', stamp);
}

/** One file and CommonJS: the host hands its text to the thread, which then needs nothing of the archive of an installed program. */
const threadBundle = {
  ...nodeBundle,
  format: 'cjs',
  banner: { js: "const __url = require('node:worker_threads').workerData.url;" },
  define: { ...nodeBundle.define, 'import.meta.url': '__url' },
  sourcemap: false,
  entryPoints: ['main/background-thread.ts'],
};

/** Bundles one TypeScript program (score, soak, speed, ...) and returns the path of the result. */
export async function bundleProgram(entry) {
  const { build } = await import('esbuild');
  const outfile = join(root, 'dist', 'programs', entry.replace(/[\\/]/g, '-').replace(/\.ts$/, '.mjs'));
  await build({
    ...nodeBundle,
    entryPoints: [join(root, entry)],
    outfile,
    external: [...nodeBundle.external, 'playwright-core', 'vite', 'esbuild', 'psychrolib'],
  });
  await bundleThread(join(root, 'dist', 'programs', THREAD));
  return outfile;
}

/** The program of the background thread alone, for tests and measuring programs. */
export async function bundleThread(outfile) {
  const { build } = await import('esbuild');
  const built = await build({ ...threadBundle, write: false, outfile });
  mkdirSync(dirname(outfile), { recursive: true });
  for (const { path, contents } of built.outputFiles) {
    writeFileSync(`${path}.${process.pid}`, contents);
    renameSync(`${path}.${process.pid}`, path);
  }
  return outfile;
}

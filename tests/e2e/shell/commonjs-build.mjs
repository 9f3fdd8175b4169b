// A build of the desktop shell for a runtime from before Electron 28, which loads no ESM: CommonJS, with what its Node and its Chromium
// lack put in. For trying the shell's wiring only; nothing of this is shipped.
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { build } from 'esbuild';
import { nodeBundle, root } from '../../../main/scripts/build-output.mjs';

/** What scripts in either world use and 2023's engines lack. */
const language = `
for (const kind of [Array, Int32Array.prototype.__proto__.constructor]) {
  const own = kind.prototype;
  own.toSorted ??= function (compare) { return this.slice().sort(compare); };
  own.toReversed ??= function () { return this.slice().reverse(); };
  own.with ??= function (at, value) { const copy = this.slice(); copy[at < 0 ? copy.length + at : at] = value; return copy; };
}
Array.prototype.toSpliced ??= function (...args) { const copy = this.slice(); copy.splice(...args); return copy; };
Array.prototype.findLast ??= function (test) { for (let i = this.length - 1; i >= 0; i--) if (test(this[i], i, this)) return this[i]; };
Object.groupBy ??= (items, keyOf) => { const groups = Object.create(null); let i = 0; for (const item of items) (groups[keyOf(item, i++)] ??= []).push(item); return groups; };
Map.groupBy ??= (items, keyOf) => { const groups = new Map(); let i = 0; for (const item of items) { const key = keyOf(item, i++); groups.has(key) ? groups.get(key).push(item) : groups.set(key, [item]); } return groups; };
Promise.withResolvers ??= () => { let resolve, reject; const promise = new Promise((a, b) => { resolve = a; reject = b; }); return { promise, resolve, reject }; };
URL.canParse ??= (address, base) => { try { new URL(address, base); return true; } catch { return false; } };
Array.fromAsync ??= async (items) => { const all = []; for await (const item of items) all.push(item); return all; };
const sets = { union: (a, b) => [...a, ...b], intersection: (a, b) => [...a].filter((one) => b.has(one)), difference: (a, b) => [...a].filter((one) => !b.has(one)) };
for (const [name, make] of Object.entries(sets)) Set.prototype[name] ??= function (other) { return new Set(make(this, other)); };
Set.prototype.isSubsetOf ??= function (other) { return [...this].every((one) => other.has(one)); };
Iterator: {
  const proto = Object.getPrototypeOf(Object.getPrototypeOf([][Symbol.iterator]()));
  proto.toArray ??= function () { return [...this]; };
  proto.map ??= function* (change) { let i = 0; for (const one of this) yield change(one, i++); };
  proto.filter ??= function* (test) { let i = 0; for (const one of this) if (test(one, i++)) yield one; };
  proto.some ??= function (test) { for (const one of this) if (test(one)) return true; return false; };
  proto.every ??= function (test) { for (const one of this) if (!test(one)) return false; return true; };
  proto.find ??= function (test) { for (const one of this) if (test(one)) return one; };
  proto.forEach ??= function (act) { for (const one of this) act(one); };
  proto.reduce ??= function (...args) { return [...this].reduce(...args); };
}
`;

const node = `
globalThis.crypto ??= require('node:crypto').webcrypto;
globalThis.File ??= require('node:buffer').File;
AbortSignal.any ??= (signals) => { const stop = new AbortController(); for (const one of signals) one.aborted ? stop.abort(one.reason) : one.addEventListener('abort', () => stop.abort(one.reason), { once: true }); return stop.signal; };
const __importMetaUrl = require('node:url').pathToFileURL(__filename).href;
const __dirnameOfFile = __dirname;
`;

/** @returns the folder to start the runtime with. The built window has to be there already. */
export async function buildCommonJs() {
  const folder = join(root, 'dist', 'shell-commonjs');
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(join(folder, 'dist', 'main'), { recursive: true });
  const common = { ...nodeBundle, format: 'cjs', target: 'node18', splitting: false };
  await build({
    ...common,
    entryPoints: ['main/electron.ts'],
    outfile: join(folder, 'dist', 'main', 'electron.cjs'),
    banner: { js: language + node },
    define: { 'import.meta.url': '__importMetaUrl', 'import.meta.dirname': '__dirnameOfFile' },
  });
  await build({ ...common, entryPoints: ['main/preload.ts'], outfile: join(folder, 'dist', 'main', 'preload.cjs'), banner: {} });
  cpSync(join(root, 'dist', 'renderer'), join(folder, 'dist', 'renderer'), { recursive: true });
  cpSync(join(root, 'main', 'resources', 'icon.png'), join(folder, 'main', 'resources', 'icon.png'));
  writeFileSync(join(folder, 'dist', 'renderer', 'old-engine.js'), language);
  const page = join(folder, 'dist', 'renderer', 'index.html');
  writeFileSync(page, readFileSync(page, 'utf8').replace('<head>', '<head><script src="./old-engine.js"></script>'));
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const { name, productName, version, desktopName } = manifest;
  writeFileSync(join(folder, 'package.json'), JSON.stringify({ name, productName, version, desktopName, main: 'dist/main/electron.cjs' }));
  return folder;
}

/**
 * A runtime that was taken out of somebody's app opens no folder that is named to it: it knows `resources/app` only. A copy of it gets our
 * build there; the runtime itself is left as it is.
 *
 * @returns program and the words that start it
 */
export function runtimeFor(program, app) {
  const from = dirname(program);
  if (existsSync(join(from, 'resources', 'default_app.asar'))) return { program, words: [app] };
  const folder = join(root, 'dist', 'shell-runtime');
  if (!existsSync(join(folder, basename(program)))) cpSync(from, folder, { recursive: true });
  rmSync(join(folder, 'resources', 'app'), { recursive: true, force: true });
  cpSync(app, join(folder, 'resources', 'app'), { recursive: true });
  // a packed app looks for modules below its own folder only
  symlinkSync(join(root, 'node_modules'), join(folder, 'resources', 'app', 'node_modules'), 'junction');
  return { program: join(folder, basename(program)), words: [] };
}

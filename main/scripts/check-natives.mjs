// Before electron-builder packs for a system and a processor: are the native parts for it here? An app without them starts, and then cannot
// open its records or any port.
import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
/** electron-builder's numbers for processors */
const processors = ['ia32', 'x64', 'armv7l', 'arm64', 'universal'];
/** packages that bring their native parts for every system, and what is missing without them */
const packages = { '@photostructure/sqlite': 'the records', '@serialport/bindings-cpp': 'serial ports' };

/** @throws in words */
export function checkNatives(system, processor, modules = join(root, 'node_modules')) {
  for (const [name, what] of Object.entries(packages)) {
    const folder = join(modules, name, 'prebuilds');
    // e.g. linux-x64, linux-arm64, darwin-x64+arm64
    const isThere =
      existsSync(folder) &&
      readdirSync(folder).some(
        (one) =>
          one.startsWith(`${system}-`) &&
          one
            .slice(system.length + 1)
            .split('+')
            .includes(processor),
      );
    if (!isThere) throw new Error(`${name} has no native part for ${system}-${processor}: the app could not open ${what} there.`);
  }
}

export default function beforePack({ electronPlatformName, arch }) {
  checkNatives(electronPlatformName, processors[arch] ?? String(arch));
}

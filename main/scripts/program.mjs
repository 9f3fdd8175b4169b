// node main/scripts/program.mjs FILE.ts [ARGUMENTS]: bundles and runs one of the measuring programs.
import { pathToFileURL } from 'node:url';
import { bundleProgram } from './build-output.mjs';

const [entry, ...rest] = process.argv.slice(2);
const file = await bundleProgram(entry);
process.argv = [process.argv[0], file, ...rest];
await import(pathToFileURL(file).href);

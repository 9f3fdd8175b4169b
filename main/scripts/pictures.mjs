// node main/scripts/pictures.mjs [STATE ...]: builds the window if it is stale and makes pictures of every screen.
import { pathToFileURL } from 'node:url';
import { bundleProgram, ensureRenderer } from './build-output.mjs';

await ensureRenderer();
await import(pathToFileURL(await bundleProgram('tests/pictures/pictures.ts')).href);

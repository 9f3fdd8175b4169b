import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureMain, root } from './build-output.mjs';

await ensureMain();
await import(pathToFileURL(join(root, 'dist', 'main', 'cli.mjs')).href);

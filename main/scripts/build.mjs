import { ensureMain, ensureRenderer } from './build-output.mjs';

await Promise.all([ensureMain(), ensureRenderer()]);

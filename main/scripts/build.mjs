import { ensureMain, ensureRenderer } from './build-output.mjs';

await Promise.all([ensureMain({ anew: process.argv.includes('--anew') }), ensureRenderer()]);

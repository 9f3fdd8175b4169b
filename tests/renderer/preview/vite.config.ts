import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

// `npx vite -c tests/renderer/preview/vite.config.ts` serves the window on a fake host, for looking at.
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  plugins: [react()],
  server: { host: '127.0.0.1', port: 5199, fs: { allow: [fileURLToPath(new URL('../../..', import.meta.url))] } },
  build: { outDir: fileURLToPath(new URL('../../../dist/preview', import.meta.url)), emptyOutDir: true, assetsInlineLimit: 0 },
});

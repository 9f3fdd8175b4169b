import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

// Served from any folder and under a strict content policy: relative addresses, nothing inlined.
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: './',
  plugins: [react()],
  build: {
    outDir: fileURLToPath(new URL('../dist/renderer', import.meta.url)),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    // one sheet for the whole window: no part of it is ever without its looks
    cssCodeSplit: false,
    target: 'es2022',
    chunkSizeWarningLimit: 900,
  },
});

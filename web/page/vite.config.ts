import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/',
  build: {
    outDir: fileURLToPath(new URL('../../dist/web/page', import.meta.url)),
    emptyOutDir: true,
    target: 'es2022',
    // Nothing is put into the markup: the content security policy of the server allows files only.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});

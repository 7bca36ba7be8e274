import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** Style, script and type of the customers' page, under names that the server's markup knows. */
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/assets/',
  build: {
    outDir: fileURLToPath(new URL('../../dist/web/customer', import.meta.url)),
    emptyOutDir: true,
    target: 'es2020',
    assetsInlineLimit: 0,
    assetsDir: '',
    modulePreload: false,
    rolldownOptions: {
      input: fileURLToPath(new URL('./main.ts', import.meta.url)),
      output: {
        entryFileNames: 'customer.js',
        assetFileNames: ({ names }) => (names[0]?.endsWith('.css') ? 'customer.css' : '[name]-[hash][extname]'),
      },
    },
  },
});

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

export type FontSubset = 'latin' | 'latin-ext' | 'greek' | 'cyrillic';
export type FontWeight = 400 | 600;

const require = createRequire(import.meta.url);
const loaded = new Map<string, Buffer>();

/**
 * A file of the bundled type (Source Sans 3, SIL Open Font License 1.1), read once: `woff2` for pages, `woff` for PDF,
 * for which the outlines are taken apart.
 */
export function loadFont(subset: FontSubset, weight: FontWeight, format: 'woff' | 'woff2'): Buffer {
  const name = `source-sans-3-${subset}-${weight}-normal.${format}`;
  const bytes = loaded.get(name) ?? readFileSync(require.resolve(`@fontsource/source-sans-3/files/${name}`));
  loaded.set(name, bytes);
  return bytes;
}

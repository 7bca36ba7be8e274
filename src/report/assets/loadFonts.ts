import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { woffToSfnt } from './woffToSfnt.ts';

export type FontSubset = 'latin' | 'latin-ext' | 'greek' | 'cyrillic';
export type FontWeight = 400 | 600;

const require = createRequire(import.meta.url);
const loaded = new Map<string, Buffer>();

/**
 * A file of the bundled type (Source Sans 3, SIL Open Font License 1.1), read once: `woff2` for pages, `sfnt` for PDF,
 * whose writer takes the outlines apart.
 */
export function loadFont(subset: FontSubset, weight: FontWeight, format: 'sfnt' | 'woff2'): Buffer {
  const name = `source-sans-3-${subset}-${weight}-normal.${format === 'sfnt' ? 'woff' : 'woff2'}`;
  let bytes = loaded.get(name);
  if (!bytes) {
    bytes = readFileSync(require.resolve(`@fontsource/source-sans-3/files/${name}`));
    if (format === 'sfnt') bytes = woffToSfnt(bytes);
    loaded.set(name, bytes);
  }
  return bytes;
}

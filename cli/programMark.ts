import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { version } from './version.ts';

let mark: string | null = null;

/**
 * Tells builds of the program apart: its version and the hash of the packed file it begins with, which names all its
 * other parts by theirs. Of sources that are not packed, the version alone.
 */
export function programMark(): string {
  mark ??= `${version()} ${hashOf(new URL('./main.js', import.meta.url))}`.trim();
  return mark;
}

function hashOf(file: URL): string {
  try {
    return createHash('sha256').update(readFileSync(file)).digest('hex');
  } catch {
    return '';
  }
}

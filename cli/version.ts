import { readFileSync } from 'node:fs';

/** Version of the program, from the package file that stands beside the built sources or above the TypeScript ones. */
export function version(): string {
  const file = new URL('../package.json', import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { version: string }).version;
}

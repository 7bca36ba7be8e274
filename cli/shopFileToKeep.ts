import { existsSync } from 'node:fs';
import { access } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { CheckProgram } from '../src/intake/childCheck.ts';

export interface KeptShopFile {
  readonly path: string;
  /** For who reads it at the start; undefined when there is none yet. */
  readonly named: string | undefined;
  /** The same program, which uses the file as soon as there is one. */
  current(program: CheckProgram): CheckProgram;
}

/** The shop's file that the page changes: the one that is named, else `shop.yaml` here, else one in the store's folder. */
export async function shopFileToKeep(named: string | undefined, home: string): Promise<KeptShopFile> {
  const here = resolve('shop.yaml');
  const isHere = await access(here).then(
    () => true,
    () => false,
  );
  const path = named !== undefined ? resolve(named) : isHere ? here : join(home, 'shop.yaml');
  const isThere = () => existsSync(path);
  return {
    path,
    named: named ?? (isThere() ? path : undefined),
    current: (program) => ({
      ...program,
      get shopFile() {
        return isThere() ? path : null;
      },
    }),
  };
}

import { join } from 'node:path';
import { ownFolder } from './dropNames.ts';

/**
 * Where intake keeps what it has not put anywhere else yet: a folder inside the watched one, so that moves between them
 * are renames.
 *
 * tmp/ID         being copied; worth nothing after a crash
 * jobs/ID        taken in: manifest.json, ticket/ and art/ (the copies that are used), keep/ (the originals, moved on with keep/)
 * work/HAND      what the worker of that name is busy with
 * told/KEY       what a notice by command says, and that it was told
 */
export interface Spool {
  readonly root: string;
  readonly home: string;
  readonly tmp: string;
  readonly jobs: string;
  readonly work: string;
  readonly told: string;
  readonly lock: string;
  readonly identity: string;
  readonly log: string;
}

export function spoolIn(root: string): Spool {
  const home = join(root, ownFolder);
  return {
    root,
    home,
    tmp: join(home, 'tmp'),
    jobs: join(home, 'jobs'),
    work: join(home, 'work'),
    told: join(home, 'told'),
    lock: join(home, 'lock'),
    identity: join(home, 'folder.json'),
    log: join(home, 'log'),
  };
}

/** Folders of one job that was taken in. */
export interface JobPlace {
  readonly folder: string;
  readonly manifest: string;
  /** One folder of flat names, which `plateglass check` is given. */
  readonly art: string;
  /** A folder with the ticket in it, where there is one. */
  readonly ticket: string;
  /** The archive that the art was packed in, where it was. */
  readonly archive: string;
  /** The originals under the names they were dropped by. Later the report lies with them. */
  readonly keep: string;
  /** What the store answered when it was handed the job. */
  readonly taken: string;
  /** There once the originals lie in keep/, so that it may be moved on. */
  readonly settled: string;
}

export function placeIn(parent: string, id: string): JobPlace {
  const folder = join(parent, id);
  return {
    folder,
    manifest: join(folder, 'manifest.json'),
    art: join(folder, 'art'),
    ticket: join(folder, 'ticket'),
    archive: join(folder, 'archive'),
    keep: join(folder, 'keep'),
    taken: join(folder, 'taken.json'),
    settled: join(folder, 'settled.json'),
  };
}

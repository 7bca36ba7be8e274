import { appendFileSync, mkdirSync, renameSync, statSync } from 'node:fs';
import { join } from 'node:path';

const name = 'plateglass.log';

/** A log that never grows beyond its files: plateglass.log, and older ones with a number behind, oldest last. */
export class RotatingLog {
  private readonly folder: string;
  private readonly mostBytes: number;
  private readonly files: number;

  constructor(folder: string, mostBytes = 5_000_000, files = 5) {
    this.folder = folder;
    this.mostBytes = mostBytes;
    this.files = files;
  }

  /** Adds a line. Throws when it cannot be written. */
  write(line: string): void {
    mkdirSync(this.folder, { recursive: true });
    const path = join(this.folder, name);
    if (this.sizeOf(path) + Buffer.byteLength(line) + 1 > this.mostBytes) this.turn(path);
    appendFileSync(path, `${line}\n`);
  }

  private sizeOf(path: string): number {
    return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
  }

  private turn(path: string): void {
    for (let n = this.files - 1; n >= 1; n--) {
      const from = n === 1 ? path : `${path}.${n - 1}`;
      if (this.sizeOf(from) > 0) renameSync(from, `${path}.${n}`);
    }
  }
}

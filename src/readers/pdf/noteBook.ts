import type { ReadNote } from '../../artwork/readNote.ts';
import type { BoxMm } from '../../geometry/box.ts';

const maxNotesOfOneCode = 20;

/** Notes of one page, each sentence once, and at most a few of a kind. */
export class NoteBook {
  private readonly notes: ReadNote[] = [];
  private readonly seen = new Set<string>();
  private readonly counts = new Map<string, number>();

  add(
    code: string,
    affects: ReadNote['affects'],
    message: string,
    details: { inkKeys?: readonly string[]; objectId?: string; boxMm?: BoxMm } = {},
  ): void {
    const identity = `${code}\n${affects}\n${message}\n${details.inkKeys?.join() ?? ''}`;
    if (this.seen.has(identity)) return;
    this.seen.add(identity);
    const count = (this.counts.get(code) ?? 0) + 1;
    this.counts.set(code, count);
    if (count <= maxNotesOfOneCode) this.notes.push({ code, message, affects, ...details });
    else if (count === maxNotesOfOneCode + 1) {
      // Which inks the rest would touch is not kept, so the note stands for all of them.
      this.notes.push({ code, message: `There is more of this kind: ${message}`, affects });
    }
  }

  list(): readonly ReadNote[] {
    return this.notes;
  }
}

import type { NoteDesk } from '../../../web/server/noteDesk.ts';

const refuse = async () => {
  throw new Error('No papers are made.');
};

/** Stands in for whoever makes notes and proofs, where none are asked for. */
export const noPapers: NoteDesk = {
  note: refuse,
  rendered: refuse,
  workList: refuse,
  proof: refuse,
  mail: refuse,
};

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { answerDrops } from '../../src/intake/dropNames.ts';
import { sha256, svg, TestIntake } from './support/testIntake.ts';

let folder: string;
let intake: TestIntake;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'answers-'));
  intake = await TestIntake.open(join(folder, 'hot'));
  await intake.start();
});
afterEach(async () => {
  await intake.close();
  rmSync(folder, { recursive: true, force: true });
});
const taken = async () => {
  await intake.pass(14);
  await intake.done();
};
const revisionsOf = async (name: string) => (await intake.opened.jobs.job(name))?.revisions ?? [];

describe('films in the folder of answers', () => {
  it('are the next revision of the job their folder names, whatever they are called, with its ticket', async () => {
    intake.drop('festival.svg', svg('first'));
    intake.drop('festival.yaml', 'customer: Village Band\n');
    await taken();
    const second = svg('second');
    intake.drop('Answers/festival/corrected by the band.svg', second);
    await taken();
    const [first, next] = await revisionsOf('festival.svg');
    expect(next.files.map(({ name, sha256: hash }) => [name, hash.slice(0, 12)])).toEqual([
      ['corrected by the band.svg', sha256(second)],
    ]);
    expect(next.ticketFile?.sha256).toBe(first.ticketFile?.sha256);
    expect(next.customer).toBe('Village Band');
    expect(intake.lines).toContain('festival.svg: taken in, revision 2, with its ticket.');
    expect(intake.files()).toMatchObject({
      'Ready to film/festival.svg, revision 2/Answers/festival/corrected by the band.svg': sha256(second),
    });
    // Byte for byte the same once more is no revision.
    intake.drop('Answers/festival/corrected by the band.svg', second);
    await taken();
    expect(await revisionsOf('festival.svg')).toHaveLength(2);
  });

  it('take a ticket of their own, and the whole name of one of several jobs', async () => {
    intake.drop('tee.svg', svg('a'));
    intake.drop('tee.pdf.zip', svg('no archive'));
    intake.drop('tee.png', svg('b'));
    await taken();
    intake.drop('Answers/tee/new.svg', svg('c'));
    await taken();
    expect(intake.lines.at(-1)).toMatch(/^Answers\/tee: nobody knows which job this answers \(several jobs are called/);
    intake.drop('Answers/tee.svg/new.svg', svg('d'));
    intake.drop('Answers/tee.svg/ticket.yaml', 'customer: Choir\n');
    await taken();
    expect((await revisionsOf('tee.svg')).map(({ ticketFile }) => ticketFile?.name ?? null)).toEqual([
      null,
      'ticket.yaml',
    ]);
  });

  it('stay where they are when no job has that name, and say so once', async () => {
    const film = svg('lost');
    intake.drop('Answers/nobody/film.svg', film);
    await intake.pass(120);
    expect(intake.lines).toEqual([
      'Answers/nobody: nobody knows which job this answers (there is no job called nobody). It stays where it is and is tried again.',
    ]);
    expect(intake.files()).toEqual({ 'Answers/nobody/film.svg': sha256(film) });
  });

  it('are each a drop of their folder, with its marker', () => {
    const names = ['tee', 'tee.done', 'film.svg', '.hidden'].map((name) => ({
      name,
      isFolder: !/\./.test(name.slice(1)),
    }));
    expect(answerDrops('Answers', names)).toEqual([
      {
        art: { name: 'Answers/tee', isFolder: true },
        ticketName: null,
        markerName: 'Answers/tee.done',
        answerTo: 'tee',
      },
    ]);
  });
});

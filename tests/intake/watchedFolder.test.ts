import { appendFileSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { realDisk } from '../../src/intake/disk.ts';
import { zipOf } from '../support/zip.ts';
import { failure, faultyDisk } from './support/faultyDisk.ts';
import type { TestIntakeOptions } from './support/testIntake.ts';
import { passes, sha256, svg, TestIntake } from './support/testIntake.ts';

let folder: string;
let open: TestIntake[];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'intake-'));
  open = [];
});

afterEach(async () => {
  for (const intake of open) await intake.close();
  rmSync(folder, { recursive: true, force: true });
});

async function start(options: TestIntakeOptions = {}, name = 'hot'): Promise<TestIntake> {
  const intake = await TestIntake.open(join(folder, name), options);
  open.push(intake);
  await intake.start();
  return intake;
}

const report = (job: string) => ({
  [`${job}/Film report/report.html`]: expect.any(String),
  [`${job}/Film report/report.json`]: expect.any(String),
  [`${job}/Film report/report.pdf`]: expect.any(String),
});

describe('what is dropped in the folder', () => {
  it('is taken when it lies still and is all there, and put beside its report', async () => {
    const intake = await start();
    const film = svg('festival');
    intake.drop('festival.svg', film);
    await intake.pass(3);
    expect(intake.lines).toEqual([]);
    await intake.pass(2);
    await intake.done();
    const job = 'Ready to film/festival.svg, revision 1';
    expect(intake.files()).toEqual({ [`${job}/festival.svg`]: sha256(film), ...report(job) });
    expect(intake.lines[0]).toBe('festival.svg: taken in, revision 1.');
    expect(intake.lines[1]).toMatch(/^Ready to film: festival\.svg, revision 1\. .+ s\.$/);
    const stored = await intake.opened.jobs.job('festival.svg');
    expect(stored?.revisions[0].files[0].storedPath).toBe(join(intake.root, job, 'festival.svg'));
  });

  it('is not taken while the copy pauses, however long below the limit, and then as a whole', async () => {
    const intake = await start();
    const film = svg('x'.repeat(5_000));
    intake.drop('slow.svg', film.slice(0, 2_000));
    await intake.pass(120);
    expect(intake.lines).toEqual([expect.stringMatching(/^slow\.svg: still arriving since .*not all there yet\.$/)]);
    appendFileSync(join(intake.root, 'slow.svg'), film.slice(2_000));
    // What has not moved for a minute is looked at every ten seconds.
    await intake.pass(30);
    await intake.done();
    expect(intake.files()).toMatchObject({ 'Ready to film/slow.svg, revision 1/slow.svg': sha256(film) });
  });

  it('is taken as it is when nothing comes for ten minutes', async () => {
    const intake = await start();
    intake.drop('cut.svg', svg('cut').slice(0, 40));
    await intake.pass(590);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
    await intake.pass(90);
    await intake.done();
    expect((await intake.opened.jobs.counts()).jobs).toBe(1);
  });

  it('is not taken for its size when room for it was set aside', async () => {
    const intake = await start();
    const film = readFileSync(new URL('../../fixtures/films/pdf/reportlab-flat-spots.pdf', import.meta.url));
    const room = Buffer.alloc(film.length);
    film.copy(room, 0, 0, film.length >> 1);
    intake.drop('festival.pdf', room);
    await intake.pass(60);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
    intake.drop('festival.pdf', film);
    await intake.pass(20);
    expect((await intake.opened.jobs.counts()).jobs).toBe(1);
  });

  it('is left alone under a temporary name, and taken when it is renamed into place', async () => {
    const intake = await start();
    const names = [
      '.festival.svg',
      'festival.svg.part',
      '~festival.svg',
      'festival.svg.tmp',
      'x.crdownload',
      'y.filepart',
    ];
    for (const name of names) intake.drop(name, svg('temporary'));
    await intake.pass(30);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
    renameSync(join(intake.root, '.festival.svg'), join(intake.root, 'festival.svg'));
    await intake.pass(6);
    expect((await intake.opened.jobs.counts()).jobs).toBe(1);
  });

  it('takes no notes, and says nothing of them', async () => {
    const intake = await start();
    for (const name of ['notes.txt', 'Thumbs.db', 'prices.csv']) intake.drop(name, 'words');
    await intake.pass(60);
    expect(intake.lines).toEqual([]);
    expect(Object.keys(intake.files())).toEqual(['Thumbs.db', 'notes.txt', 'prices.csv']);
  });

  it('takes a sub-folder as one job, with all that lies in it', async () => {
    let seen: string | null = null;
    const intake = await start({
      check: (order) => {
        seen = order.ticketFile;
        return passes(order);
      },
    });
    const dropped = {
      'coral.svg': svg('coral'),
      'night.svg': svg('night'),
      'ticket.yaml': 'job: Choir',
      'note.txt': 'hello',
    };
    for (const [name, content] of Object.entries(dropped)) intake.drop(`choir/${name}`, content);
    await intake.pass(12);
    await intake.done();
    const job = 'Ready to film/choir, revision 1';
    const originals = Object.entries(dropped).map(([name, content]) => [`${job}/choir/${name}`, sha256(content)]);
    expect(intake.files()).toEqual({ ...Object.fromEntries(originals), ...report(job) });
    expect(seen).toMatch(/ticket\.yaml$/);
  });

  it('looks at a folder of notes alone seldom, and takes it when art comes', async () => {
    let looks = 0;
    const stat: typeof realDisk.stat = (path) => {
      if (path.includes('/hot/old/')) looks += 1;
      return realDisk.stat(path);
    };
    const intake = await start({ disk: { ...realDisk, stat } });
    for (let n = 0; n < 50; n++) intake.drop(`old/${n}.txt`, 'note');
    await intake.pass(12);
    looks = 0;
    await intake.pass(120);
    expect(looks).toBe(0);
    intake.drop('old/coral.svg', svg('coral'));
    await intake.pass(18);
    await intake.done();
    expect(looks).toBeGreaterThan(0);
    expect(intake.files()).toMatchObject({ 'Ready to film/old, revision 1/old/coral.svg': sha256(svg('coral')) });
  });

  it('takes a second drop of the name as the next revision, and the same bytes not again', async () => {
    const intake = await start();
    for (const words of ['first', 'second', 'second']) {
      intake.drop('band.svg', svg(words));
      await intake.pass(6);
      await intake.done();
    }
    const names = Object.keys(intake.files()).filter((name) => name.endsWith('band.svg'));
    expect(names).toEqual([
      expect.stringMatching(/^Dropped again\/band\.svg, .*\/band\.svg$/),
      'Ready to film/band.svg, revision 1/band.svg',
      'Ready to film/band.svg, revision 2/band.svg',
    ]);
    expect((await intake.opened.jobs.job('band.svg'))?.revisions).toHaveLength(2);
  });

  it('takes a ticket with the art it lies beside; one that comes late makes a revision of the same art', async () => {
    const intake = await start();
    intake.drop('tee.svg', svg('tee'));
    intake.drop('tee.yaml', 'job: First');
    await intake.pass(6);
    await intake.done();
    intake.drop('tee.yaml', 'job: Second');
    await intake.pass(6);
    await intake.done();
    const files = intake.files();
    for (const [revision, words] of [
      [1, 'First'],
      [2, 'Second'],
    ] as const) {
      const job = `Ready to film/tee.svg, revision ${revision}`;
      expect(files).toMatchObject({
        [`${job}/tee.svg`]: sha256(svg('tee')),
        [`${job}/tee.yaml`]: sha256(`job: ${words}`),
      });
    }
    const stored = await intake.opened.jobs.job('tee.svg');
    expect(stored?.revisions.map(({ ticketFile }) => ticketFile?.name)).toEqual(['tee.yaml', 'tee.yaml']);
  });

  it('waits with a ticket that has no art yet', async () => {
    const intake = await start();
    intake.drop('poster.yaml', 'job: Poster');
    await intake.pass(60);
    intake.drop('poster.svg', svg('poster'));
    await intake.pass(40);
    await intake.done();
    expect(Object.keys(intake.files()).filter((name) => name.includes('poster.'))).toContain(
      'Ready to film/poster.svg, revision 1/poster.yaml',
    );
  });

  it('unpacks an archive to check it, and keeps the archive as it came', async () => {
    let given: string[] = [];
    const intake = await start({
      check: async (order) => {
        given = (await realDisk.list(order.art)).map(({ name }) => name).sort();
        return passes(order);
      },
    });
    const zip = zipOf(
      ['set/coral.svg', 'set/night.svg', 'set/ticket.yaml', '__MACOSX/set/._coral.svg'].map((name) => ({
        name,
        bytes: Buffer.from(svg(name)),
      })),
    );
    intake.drop('set.zip', zip);
    await intake.pass(6);
    await intake.done();
    expect(given).toEqual(['coral.svg', 'night.svg', 'ticket.yaml']);
    expect(intake.files()).toMatchObject({ 'Ready to film/set, revision 1/set.zip': sha256(zip) });
  });

  it.each([
    ['leads out of it', zipOf([{ name: '../coral.svg', bytes: Buffer.from(svg('x')) }])],
    ['leads out of it', zipOf([{ name: '/etc/coral.svg', bytes: Buffer.from(svg('x')) }])],
    ['unpacks to more', zipOf([{ name: 'coral.svg', bytes: Buffer.alloc(1000), statedBytes: 4_000_000_000 }])],
    ['holds links', zipOf([{ name: 'coral.svg', bytes: Buffer.from('/etc/hosts'), mode: 0o120777 }])],
    ['archive in the archive', zipOf([{ name: 'coral.zip', bytes: Buffer.from('PK') }])],
    ['locked by a password', zipOf([{ name: 'coral.svg', bytes: Buffer.from(svg('x')), flags: 1 }])],
    ['Two files', zipOf(['x', 'y'].map((words) => ({ name: 'coral.svg', bytes: Buffer.from(svg(words)) })))],
    [
      'more than 500 files',
      zipOf(Array.from({ length: 501 }, (_, n) => ({ name: `${n}.svg`, bytes: Buffer.alloc(1) }))),
    ],
    [
      'more than 20000 entries',
      zipOf(Array.from({ length: 20_001 }, (_, n) => ({ name: `${n}/`, bytes: Buffer.alloc(0) }))),
    ],
    ['name that no disk takes', zipOf([{ name: `${'c'.repeat(300)}.svg`, bytes: Buffer.from(svg('x')) }])],
    ['name that no disk takes', zipOf([{ name: 'coral\u0000.svg', bytes: Buffer.from(svg('x')) }])],
    ['no film', zipOf([{ name: 'notes.txt', bytes: Buffer.from('hello') }])],
    ['damaged', zipOf([{ name: 'coral.svg', bytes: Buffer.alloc(5_000_000), statedBytes: 100 }])],
  ])('refuses an archive that %s', async (why, zip) => {
    const intake = await start();
    intake.drop('set.zip', zip);
    await intake.pass(6);
    await intake.done();
    expect(intake.lines.at(-1)).toContain(why);
    expect(intake.lines).toHaveLength(2);
    expect(intake.lines.at(-1)).not.toContain(folder);
    expect(intake.files()).toMatchObject({ 'Not checked/set, revision 1/set.zip': sha256(zip) });
  });

  it.each([1, -1])('takes and checks as ever when the clock on the wall jumps by %d h meanwhile', async (hours) => {
    const intake = await start();
    intake.drop('one.svg', svg('one').slice(0, 30));
    await intake.pass(2);
    intake.wallMs += hours * 3_600_000;
    await intake.pass(4);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
    intake.drop('one.svg', svg('one'));
    await intake.pass(2);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
    intake.wallMs -= hours * 3_600_000;
    await intake.pass(4);
    await intake.done();
    expect((await intake.opened.jobs.job('one.svg'))?.revisions).toHaveLength(1);
    expect(intake.lines).toHaveLength(2);
  });

  it('takes at once what its marker says is there, and nothing else when only markers count', async () => {
    const intake = await start({ markersOnly: true });
    intake.drop('one.svg', svg('one'));
    intake.drop('two.svg', svg('two'));
    await intake.pass(30);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
    intake.drop('two.svg.done', '');
    await intake.pass(1);
    expect((await intake.opened.jobs.job('two.svg'))?.revisions).toHaveLength(1);
    expect(await intake.opened.jobs.job('one.svg')).toBeNull();
  });

  it('starts over with a file that is replaced while it is copied', async () => {
    let replaced = 0;
    const disk = faultyDisk(realDisk, (call, path) => {
      if (call !== 'create' || !path.endsWith('art/band.svg') || replaced > 0) return;
      replaced += 1;
      writeFileSync(join(folder, 'new.svg'), svg('the other'));
      renameSync(join(folder, 'new.svg'), join(folder, 'hot/band.svg'));
    });
    const intake = await start({ disk });
    intake.drop('band.svg', svg('the one'));
    await intake.pass(12);
    await intake.done();
    expect(replaced).toBe(1);
    expect(intake.files()).toMatchObject({ 'Ready to film/band.svg, revision 1/band.svg': sha256(svg('the other')) });
    expect((await intake.opened.jobs.job('band.svg'))?.revisions).toHaveLength(1);
  });

  it('keeps what it took, and takes what replaced it before it could be moved', async () => {
    let replaced = 0;
    const disk = faultyDisk(realDisk, (call, path) => {
      if (call !== 'rename' || !path.endsWith('keep/band.svg') || replaced > 0) return;
      replaced += 1;
      writeFileSync(join(folder, 'new.svg'), svg('the other'));
      renameSync(join(folder, 'new.svg'), join(folder, 'hot/band.svg'));
    });
    const intake = await start({ disk });
    intake.drop('band.svg', svg('the one'));
    await intake.pass(14);
    await intake.done();
    expect(replaced).toBe(1);
    expect(intake.files()).toMatchObject({
      'Ready to film/band.svg, revision 1/band.svg': sha256(svg('the one')),
      'Ready to film/band.svg, revision 2/band.svg': sha256(svg('the other')),
    });
  });

  it.each(['ENOSPC', 'EIO', 'EACCES', 'EROFS'])(
    'leaves it where it is on %s, says so once, and takes it later',
    async (code) => {
      let armed = false;
      let failures = 0;
      const disk = faultyDisk(realDisk, (call, path) => {
        if (call !== 'sync' && !(call === 'create' && path.includes('/tmp/'))) return;
        if (!armed || failures >= 2) return;
        failures += 1;
        throw failure(code);
      });
      const intake = await start({ disk });
      armed = true;
      intake.drop('band.svg', svg('band'));
      await intake.pass(6);
      expect(failures).toBe(1);
      expect(intake.files()).toEqual({ 'band.svg': sha256(svg('band')) });
      await intake.pass(100);
      await intake.done();
      expect(failures).toBe(2);
      expect(intake.lines.filter((line) => line.includes(code))).toHaveLength(1);
      expect(intake.files()).toMatchObject({ 'Ready to film/band.svg, revision 1/band.svg': sha256(svg('band')) });
    },
  );

  it('checks what may not be moved away, once', async () => {
    let refused = 0;
    const disk = faultyDisk(realDisk, (call, path) => {
      if (call !== 'rename' || !path.endsWith('keep/band.svg') || path.includes('copy')) return;
      refused += 1;
      if (refused === 1) throw failure('EACCES');
    });
    const intake = await start({ disk });
    intake.drop('band.svg', svg('band'));
    await intake.pass(60);
    await intake.done();
    expect(refused).toBeGreaterThan(0);
    expect(intake.files()).toMatchObject({
      'band.svg': sha256(svg('band')),
      'Ready to film/band.svg, revision 1/band.svg': sha256(svg('band')),
    });
    expect((await intake.opened.jobs.job('band.svg'))?.revisions).toHaveLength(1);
  });

  it('does not take an empty folder in its place for the folder', async () => {
    const intake = await start();
    intake.drop('one.svg', svg('one'));
    await intake.pass(2);
    renameSync(intake.root, `${intake.root}.away`);
    await intake.pass(5);
    mkdirSync(intake.root);
    await intake.pass(5);
    expect(intake.files()).toEqual({});
    expect(intake.lines).toHaveLength(2);
    rmSync(intake.root, { recursive: true });
    renameSync(`${intake.root}.away`, intake.root);
    await intake.pass(8);
    await intake.done();
    expect(intake.lines[2]).toMatch(/the folder is back/);
    expect(intake.files()).toMatchObject({ 'Ready to film/one.svg, revision 1/one.svg': sha256(svg('one')) });
  });

  it('does not look at the clock on the wall', async () => {
    const intake = await start();
    intake.drop('one.svg', svg('one'));
    const wall = Date.now;
    try {
      Date.now = () => 0;
      await intake.pass(6);
    } finally {
      Date.now = wall;
    }
    expect((await intake.opened.jobs.counts()).jobs).toBe(1);
  });
});

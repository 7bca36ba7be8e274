import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { runCli } from './runCli.ts';

let scratch: string;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'note-since-'));
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

const art = (lineMm: number, x: number) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <path d="M5 30H40" stroke="#e4572e" stroke-width="${lineMm}"/><rect x="${x}" y="5" width="9" height="9" fill="#e4572e"/></svg>`;
const oneLine = (text: string) => text.replace(/\s+/g, ' ');

it('a note on an answer finds the revision before in the store, by report or by name, or is given it', async () => {
  const hot = join(scratch, 'hot');
  mkdirSync(hot);
  writeFileSync(join(hot, 'tee.svg'), art(0.12, 10));
  const store = ['--store', join(scratch, 'store')];
  const watch = () => runCli(['watch', hot, '--once', '--settle', '0.2', ...store]);
  expect(watch().exitCode).toBe(0);
  mkdirSync(join(hot, 'Answers', 'tee'), { recursive: true });
  writeFileSync(join(hot, 'Answers', 'tee', 'corrected.svg'), art(0.5, 11));
  expect(watch().exitCode).toBe(0);
  const report = (revision: number) =>
    join(hot, 'Not ready', `tee.svg, revision ${revision}`, 'Film report', 'report.json');
  const expected = [
    'Thank you for your new file',
    'The lines in coral (#e4572e) are wide enough now.',
    'Part of coral (#e4572e) moved 1.0 mm to the right.',
  ];
  const folder = runCli(['jobs', 'show', 'tee.svg', ...store]).stdout.match(/lie in {2}(.*revision 2)/)![1];
  const own = join(folder, 'Film report', 'report.json');
  for (const about of [own, 'tee.svg']) {
    const note = runCli(['note', about, ...store]);
    expect(note.exitCode, note.stderr).toBe(0);
    for (const words of expected) expect(oneLine(note.stdout)).toContain(words);
  }
  const mail = join(scratch, 'note.eml');
  const shop = join(scratch, 'shop.yaml');
  writeFileSync(shop, 'note: { mail: { from: films@shop.example } }\n');
  const draft = ['--format', 'eml', '--out', mail, '--to', 'band@village.example', '--language', 'de', '--shop', shop];
  expect(runCli(['note', 'tee.svg', ...draft, ...store]).exitCode).toBe(0);
  expect(readFileSync(mail, 'utf8')).toMatch(/filename="?question-\d\.png/);
  // Plates do not lie beside the report in a job's folder, so only the findings are told of, and that is said.
  const given = runCli(['note', own, '--since', report(1)]);
  expect(given.exitCode, given.stderr).toBe(0);
  expect(given.stderr).toContain('The plates of one of the two were not kept');
  expect(oneLine(given.stdout)).toContain(expected[1]);
  expect(runCli(['note', own, '--no-since', ...store]).stdout).toContain('Thank you for your artwork.');
  expect(runCli(['note', own, ...store]).stdout).toContain('has no ink name');
  const opened = await openJobStore({ location: join(scratch, 'store'), owner: 'a test' });
  const { revisionId } = (await opened.jobs.job('tee.svg'))!.revisions.at(-1)!;
  const finding = { checkId: 'unnamed-ink', code: 'colour-without-name', inkNames: ['#e4572e'] };
  await opened.jobs.decide({ revisionId, kind: 'acceptFinding', by: 'Mila', reason: 'Known', finding });
  await opened.close();
  expect(runCli(['note', own, ...store]).stdout).not.toContain('has no ink name');
  const nowhere = runCli(['note', 'missing.json', '--store', join(scratch, 'no store')]);
  expect(nowhere.stderr).toBe(
    'plateglass: missing.json is not there, or is not a report. Give the report.json that a check wrote.\n',
  );
  const nobody = runCli(['note', 'nobody.svg', ...store]);
  expect([nobody.exitCode, nobody.stderr]).toEqual([
    2,
    'plateglass: nobody.svg is neither a report.json nor a job of the store. Check the name.\n',
  ]);
});

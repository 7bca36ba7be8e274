import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { root, runCli } from './runCli.ts';

/** A base choked by 0.3 mm, a sun that runs 0.25 mm under a hill, thin lines, and a word too small to be seen. */
const film = `<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="36mm" viewBox="0 0 50 36">
  <g id="ink-Base"><circle cx="16" cy="13" r="7.7" fill="#f6f1e1"/><path d="M2.3 34.7V26L22 20.3L47.7 27v7.7z" fill="#f6f1e1"/></g>
  <g id="ink-Honey"><circle cx="16" cy="13" r="8" fill="#e0a526"/><path d="M30 4l14 1.2-14 .1z" fill="#e0a526"/></g>
  <g id="ink-Meadow" style="mix-blend-mode:multiply"><path d="M2 35V25.8L22 20l26 6.8V35z" fill="#4c8a3f"/>
  <path d="M30 9h16M30 11.4h16M31 14a4 4 0 0 0 8 0" fill="none" stroke="#4c8a3f" stroke-width="0.22"/></g>
</svg>`;
const ticket = `
garment: { colour: "#1b2a41" }
screens:
  - { ink: Base, role: underbase }
  - { ink: Honey }
  - { ink: Meadow }
`;
let scratch: string;

beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'plateglass-plain-'));
  writeFileSync(join(scratch, 'sun.svg'), film);
  writeFileSync(join(scratch, 'ticket.yaml'), ticket);
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

function reportOf(path: string, ...nodeOptions: string[]): ReportJson {
  const { stdout, stderr } = runCli(['check', path, '--format', 'json'], root, nodeOptions);
  if (stdout === '') throw new Error(stderr);
  return { ...(JSON.parse(stdout) as ReportJson), timings: {} } as ReportJson;
}

describe('where WebAssembly cannot be had', () => {
  for (const [name, path] of [
    ['base, trap and thin lines', () => scratch],
    ['a film with a halftone', () => join(root, 'fixtures/films/svg/pattern-dots.svg')],
  ] as const) {
    it(`the report of ${name} is the same`, () => {
      const report = reportOf(path());
      expect(reportOf(path(), '--jitless')).toEqual(report);
      expect(report.plates.length).toBeGreaterThan(0);
    });
  }

  it('Node can be started so', () => {
    const { stdout } = spawnSync(process.execPath, ['--jitless', '-p', 'typeof WebAssembly'], { encoding: 'utf8' });
    expect(stdout.trim()).toBe('undefined');
  });

  it('pairs of plates have been compared and the base been measured', () => {
    const { pairs, underbase } = reportOf(scratch, '--jitless');
    expect(pairs.length).toBeGreaterThan(0);
    expect(Math.abs(underbase!.medianChokeMm! - 0.3)).toBeLessThan(0.1);
  });
});

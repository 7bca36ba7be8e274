import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checks } from '../../src/checks/index.ts';
import type { CheckCases } from '../support/checkTester.ts';
import { testCheck } from '../support/checkTester.ts';

const caseFiles = readdirSync(import.meta.dirname).filter((name) => name.endsWith('.cases.ts'));
const checkFiles = readdirSync(`${import.meta.dirname}/../../src/checks`).filter((name) =>
  /^[a-z]+-[a-z-]+\.ts$|^pinhole\.ts$/.test(name),
);

describe('the list of checks', () => {
  const ids = checks.map(({ id }) => id);

  it('names each check once', () => {
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('holds every check file, and each check has its rows', () => {
    expect(checkFiles.map((name) => name.replace('.ts', '')).sort()).toEqual([...ids].sort());
    expect(caseFiles.map((name) => name.replace('.cases.ts', '')).sort()).toEqual([...ids].sort());
  });

  it('says of every check what holds when it passes and when it fails, in a sentence each', () => {
    for (const { title, failTitle, asks } of checks) {
      expect(asks).toMatch(/^[A-Z].*\?$/);
      for (const text of [title, failTitle]) expect(text).toMatch(/^[A-Z].*[^.?!]$/);
      expect(title).not.toBe(failTitle);
    }
  });
});

for (const check of checks) {
  const { cases } = (await import(`./${check.id}.cases.ts`)) as { cases: CheckCases };
  describe(check.id, () => testCheck(check, cases));
}

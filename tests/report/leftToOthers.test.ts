import { expect, it } from 'vitest';
import { leftToOthersIn } from '../../src/report/leftToOthers.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

it('what checks leave to others is said once, with the questions of those that leave it', async () => {
  const { report, pictures } = inspectionFixture();
  const [first, second, ...others] = report.checks;
  const text = '80 cm² of Coral is halftone.';
  const left = {
    ...report,
    checks: [{ ...first, leftToOthers: [text] }, { ...second, leftToOthers: [text] }, ...others],
  };
  expect(leftToOthersIn(report)).toEqual([]);
  expect(leftToOthersIn(left)).toEqual([[`${first.asks} ${second.asks}`, text]]);
  const shown = renderHtml(await paintReport({ report: left, pictures }));
  expect(shown.split(text).length).toBe(2);
  expect(shown).toContain('Left to other checks');
});

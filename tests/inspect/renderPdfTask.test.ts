import { describe, expect, it } from 'vitest';
import { crewOfOne } from '../../src/inspect/crew.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderPdf } from '../../src/report/renderPdf.ts';
import { type FixtureOptions, inspectionFixture } from '../support/inspectionFixture.ts';

describe('the PDF set by another thread', () => {
  it.each<FixtureOptions>([{}, { inks: 12 }])('is the same bytes of what is handed over: %o', async (options) => {
    const painted = await paintReport(inspectionFixture(options));
    const here = await renderPdf(painted);
    // What passes between threads is copied by the structured clone algorithm.
    const there = structuredClone(await crewOfOne().do('renderPdf', structuredClone(painted)));
    expect(Buffer.compare(Buffer.from(there), Buffer.from(here))).toBe(0);
  });
});

import { describe, expect, it } from 'vitest';
import { type Crew, crewOfOne } from '../../src/inspect/crew.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const built = new URL('../../dist/src/inspect/workerCrew.js', import.meta.url).href;

describe('the PDF of a report', () => {
  it('is the same bytes with no thread, one and two, at first and again', async () => {
    const { workerCrew } = (await import(/* @vite-ignore */ built)) as { workerCrew: (hands: number) => Crew };
    const painted = await paintReport(inspectionFixture());
    const wanted = Buffer.from(await crewOfOne().do('renderPdf', painted));
    for (const hands of [1, 2]) {
      const crew = workerCrew(hands);
      try {
        for (const _turn of ['first', 'second']) {
          expect(wanted.equals(Buffer.from(await crew.do('renderPdf', painted)))).toBe(true);
        }
      } finally {
        await crew.dismiss();
      }
    }
  });
});

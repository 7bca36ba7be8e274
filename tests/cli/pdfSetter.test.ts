import { describe, expect, it } from 'vitest';
import { pdfSetter } from '../../cli/pdfSetter.ts';
import type { Crew } from '../../src/inspect/crew.ts';
import type { PaintedReport } from '../../src/report/paintedReport.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const { report } = inspectionFixture();
const real: PaintedReport = { report, composite: null, slips: new Map(), figures: new Map() };

/** A crew that keeps what it is asked to set until it is told how it went. */
function waitingCrew() {
  const asked: { painted: unknown; end: (bytes: Uint8Array) => void; fail: (error: Error) => void }[] = [];
  const crew: Crew = {
    hands: 2,
    do: (_name, painted) =>
      new Promise((resolve, reject) => asked.push({ painted, end: resolve as never, fail: reject })),
    dismiss: async () => {},
  };
  return { crew, asked };
}

const settled = () => new Promise((resolve) => setImmediate(resolve));

describe('the PDF of a report', () => {
  it('is asked for at once when nothing was rehearsed', () => {
    const { crew, asked } = waitingCrew();
    void pdfSetter(crew).set(real);
    expect(asked.map(({ painted }) => painted)).toEqual([real]);
  });

  it('waits for the rehearsal, so that whoever loaded the writer sets it', async () => {
    const { crew, asked } = waitingCrew();
    const setter = pdfSetter(crew);
    setter.rehearse(report);
    const pdf = setter.set(real);
    await settled();
    expect(asked).toHaveLength(1);
    asked[0].end(Uint8Array.of(1));
    await settled();
    expect(asked[1].painted).toBe(real);
    asked[1].end(Uint8Array.of(2));
    expect(await pdf).toEqual(Uint8Array.of(2));
  });

  it('is set when the rehearsal went wrong, and tells what goes wrong itself', async () => {
    const { crew, asked } = waitingCrew();
    const setter = pdfSetter(crew);
    setter.rehearse(report);
    asked[0].fail(new Error('a thread was lost'));
    await settled();
    const pdf = setter.set(real);
    expect(asked).toHaveLength(2);
    asked[1].fail(new Error('no memory'));
    await expect(pdf).rejects.toThrow('no memory');
  });
});

import { describe, expect, it } from 'vitest';
import { meshMoire } from '../../src/checks/mesh-moire.ts';
import type { CheckResult, MeshBeat } from '../../src/findings/finding.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { beatPictureOf, beatTones } from '../../src/report/beatPicture.ts';
import { entryOf } from '../../src/report/entry.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { askOf, halftoneRegionOf } from '../support/askFixture.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const mesh = { ...meshByFormula(120, 34), openingFrom: 'formula', weave: 'plain' } as const;

function moireOf(region: Parameters<typeof halftoneRegionOf>[0], inkName = 'Coral'): CheckResult {
  const ask = askOf({
    inks: [inkName],
    plates: [{ ink: inkName, halftone: { regions: [halftoneRegionOf(region)] } }],
    ticket: { mesh, plateLimitsFrom: 'default' },
  });
  return runCheck(meshMoire, ask);
}

/** How strongly tones repeat at a frequency, cycles a mm with y up. */
function strengthAt(tones: Uint8Array, side: number, pitchMm: number, x: number, y: number): number {
  let [re, im] = [0, 0];
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const taper = Math.sin((Math.PI * (row + 0.5)) / side) ** 2 * Math.sin((Math.PI * (column + 0.5)) / side) ** 2;
      const phase = 2 * Math.PI * pitchMm * (x * column - y * row);
      re += taper * (tones[row * side + column] - 127.5) * Math.cos(phase);
      im += taper * (tones[row * side + column] - 127.5) * Math.sin(phase);
    }
  }
  return Math.hypot(re, im);
}

describe('the picture of a beat', () => {
  it.each([
    ['round', 55, 22.5],
    ['line', 61, 46],
    ['elliptical', 60, 110],
  ] as const)('of %s dots repeats as the beat does, at true size', (dotShape, rulingLpi, angleDeg) => {
    const { findings } = moireOf({ dotShape, rulingLpi, angleDeg });
    const beat = findings[0].beat as MeshBeat;
    const { image } = beatTones(beat);
    expect(image.widthPx * image.pitchXMm).toBeCloseTo(42, 9);
    const { periodMm, directionDeg } = beat.drawn;
    const at = (times: number, turnDeg: number) => {
      const angle = ((directionDeg + turnDeg) * Math.PI) / 180;
      const perMm = times / periodMm;
      return strengthAt(image.tones, image.widthPx, image.pitchXMm, perMm * Math.cos(angle), perMm * Math.sin(angle));
    };
    const here = at(1, 0);
    for (const times of [0.7, 0.8, 1.25, 1.4]) expect(at(times, 0)).toBeLessThan(0.6 * here);
    for (const turnDeg of [25, 45, -25, -45]) expect(at(1, turnDeg)).toBeLessThan(0.6 * here);
    expect(here).toBeGreaterThan(at(0.98, 0));
    expect(here).toBeGreaterThan(at(1.02, 0));
  });

  it('stands with the finding, with a bar of millimetres, before its places', async () => {
    const usual = inspectionFixture();
    const name = usual.report.inks[1].name;
    const check = moireOf({ rulingLpi: 55 }, name);
    const report = { ...usual.report, checks: [...usual.report.checks, check] };
    const picture = await beatPictureOf(report, entryOf({ check, finding: check.findings[0], findingIndex: 0 }));
    expect(picture!.width).toBeCloseTo((42 / 25.4) * 96, 6);
    expect(picture!.imageWidth).toBeCloseTo(picture!.width, 6);
    expect(picture!.overlay.some((shape) => shape.kind === 'text' && shape.text === '10\u00a0mm')).toBe(true);
    const html = renderHtml(await paintReport({ ...usual, report }));
    expect(html).toContain('Reckoned, at true size: bands');
    expect(html).toMatch(/an estimate for 1.m/);
  });

  it('is left out of findings that tell of no beat', async () => {
    const { report } = inspectionFixture();
    const check = report.checks.find(({ findings }) => findings.length > 0)!;
    expect(await beatPictureOf(report, entryOf({ check, finding: check.findings[0], findingIndex: 0 }))).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { usualBand } from '../../src/mesh/beatBand.ts';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { estimateMoire, usualSight } from '../../src/mesh/moireEstimate.ts';
import { nearSettings, type Setting } from '../../src/mesh/nearSettings.ts';

const from: Setting = { ruling: { rulingLpi: 55, angleDeg: 22.5, dotForm: 'round' }, mesh: meshByFormula(120, 34) };

describe('settings nearby', () => {
  it('are the nearest of each kind that the rule takes, nearest first', () => {
    const found = nearSettings(
      from,
      [meshByFormula(90, 48), meshByFormula(140, 34), meshByFormula(120, 34)],
      ({ ruling, mesh }) => ruling.angleDeg <= 20 || ruling.rulingLpi <= 52 || mesh.threadsPerCm > 120,
    );
    expect(found.map(({ changes }) => changes)).toEqual(['angle', 'ruling', 'mesh']);
    expect(found[0].ruling.angleDeg).toBe(20);
    expect(found[0].moved).toBeCloseTo((2.5 * Math.PI) / 180, 9);
    expect(found[1].ruling.rulingLpi).toBe(52);
    expect(found[1].moved).toBeCloseTo(3 / 55, 9);
    expect(found[2].mesh.threadsPerCm).toBe(140);
  });

  it('change ruling and angle together only where no single change does', () => {
    const found = nearSettings(from, [], ({ ruling }) => ruling.rulingLpi < 54 && ruling.angleDeg > 23);
    expect(found.map(({ changes }) => changes)).toEqual(['rulingAndAngle']);
    expect(found[0].ruling).toMatchObject({ rulingLpi: 52, angleDeg: 25 });
    expect(nearSettings(from, [], () => false)).toEqual([]);
  });

  it('turn within a quarter for round dots and a half for lines', () => {
    const turned = (dotForm: 'round' | 'line') =>
      nearSettings({ ...from, ruling: { rulingLpi: 55, angleDeg: 85, dotForm } }, [], ({ ruling }) =>
        [5, 95].includes(ruling.angleDeg),
      )[0].ruling.angleDeg;
    expect(turned('round')).toBe(5);
    expect(turned('line')).toBe(95);
  });

  it('lead out of a beat that is plain to see, and what they lead to shows none', () => {
    // 120/cm at 56.6 lpi and 21.8° is the pole of order 5, 2: n / L = √29.
    const spectrum = dotSpectrum('round', [20]);
    const rule = { viewingDistanceMm: 1000, ...usualSight };
    const band = { ...usualBand, squarenessDeg: 0.5 };
    const start = { ...from, ruling: { ...from.ruling, rulingLpi: 56.6, angleDeg: 21.8 } };
    const sightOf = ({ ruling, mesh }: Setting) => estimateMoire(ruling, spectrum, mesh, band, rule).sight;
    expect(sightOf(start)).toBe('plain');
    const found = nearSettings(start, [meshByFormula(140, 34)], (setting) => sightOf(setting) === 'none');
    expect(found.length).toBeGreaterThan(0);
    for (const setting of found) expect(sightOf(setting)).toBe('none');
  });
});

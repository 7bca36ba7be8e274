import { describe, expect, it } from 'vitest';
import { angleClash } from '../../src/checks/angle-clash.ts';
import { meshMoire } from '../../src/checks/mesh-moire.ts';
import { toneOutOfRange } from '../../src/checks/tone-out-of-range.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';
import { usualBand } from '../../src/mesh/beatBand.ts';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { estimateMoire, usualSight } from '../../src/mesh/moireEstimate.ts';
import { tonesInUse } from '../../src/mesh/tonesInUse.ts';
import { askOf, halftoneRegionOf, overlapOf } from '../support/askFixture.ts';

const mesh = { ...meshByFormula(120, 34), openingFrom: 'formula', weave: 'plain' } as const;
const finer = { ...meshByFormula(150, 31), openingFrom: 'formula', weave: 'plain' } as const;
const ticket = { mesh, meshes: [mesh, finer], plateLimitsFrom: 'default' } as const;
const spectrum = dotSpectrum('round', tonesInUse(10, 80));
const rule = { viewingDistanceMm: 1000, ...usualSight };

function sightOf(rulingLpi: number, angleDeg: number, through = mesh as typeof mesh | typeof finer) {
  return estimateMoire({ rulingLpi, angleDeg, dotForm: 'round' }, spectrum, through, usualBand, rule).sight;
}

describe('advice on halftones', () => {
  it('on moiré names settings that show none by the same estimate, and says that it is one', () => {
    const regions = [halftoneRegionOf({ rulingLpi: 55, angleDeg: 22.5 })];
    const [finding] = runCheck(
      meshMoire,
      askOf({ plates: [{ ink: 'Coral', halftone: { regions } }], ticket }),
    ).findings;
    const { printer, customer } = finding.advice;
    expect(printer).toMatch(/An estimate/);
    expect(customer).toMatch(/By estimate/);
    const lpi = Number(/([\d.]+) lpi instead of 55/.exec(printer)?.[1]);
    const angle = Number(/([\d.]+)° instead of 22\.5°/.exec(printer)?.[1]);
    expect(sightOf(55, 22.5)).toBe('plain');
    expect(sightOf(lpi, 22.5)).toBe('none');
    expect(sightOf(55, angle)).toBe('none');
    // Nothing nearer will do.
    for (let nearer = 0.5; nearer < Math.abs(angle - 22.5); nearer += 0.5)
      for (const side of [-1, 1]) expect(sightOf(55, 22.5 + side * nearer)).not.toBe('none');
    for (let nearer = 0.5; nearer < Math.abs(lpi - 55); nearer += 0.5)
      for (const side of [-1, 1]) expect(sightOf(55 + side * nearer, 22.5)).not.toBe('none');
    expect(printer.includes('150/cm')).toBe(sightOf(55, 22.5, finer) === 'none');
  });

  it('on a clash names the nearest angle that clears the limit and shows no moiré', () => {
    const ask = askOf({
      inks: ['Coral', 'Night'],
      plates: [
        { ink: 'Coral', halftone: { regions: [halftoneRegionOf({ angleDeg: 12.5, rulingLpi: 55 })] } },
        { ink: 'Night', halftone: { regions: [halftoneRegionOf({ angleDeg: 20, rulingLpi: 55 })] } },
      ],
      overlaps: [overlapOf('Coral', 'Night', { sharedAreaMm2: 500 })],
      ticket,
    });
    const [finding] = runCheck(angleClash, ask).findings;
    const angle = Number(/Night at ([\d.]+)°/.exec(finding.advice.printer)?.[1]);
    expect(Math.abs(angle - 12.5)).toBeGreaterThanOrEqual(15);
    expect(sightOf(55, angle)).toBe('none');
    for (let nearer = 27.5; nearer < angle; nearer += 0.5) expect(sightOf(55, nearer)).not.toBe('none');
  });

  it('on lost tones names a ruling and a mesh that hold them', () => {
    // 120-34 holds dots of 0.1173 mm: π/4 (0.1173 / 25.4)² L² = 4 % up to 48.8 lpi; 150-31 of 0.0977 mm.
    const areaByToneMm2 = Array.from({ length: 101 }, (_, tone) => (tone >= 4 && tone <= 80 ? 10 : 0));
    const regions = [halftoneRegionOf({ rulingLpi: 58, toneMinPercent: 4, areaByToneMm2 })];
    const limits = { minDotMm: 0.1173, minIslandMm: 0.1173 };
    const job = askOf({
      plates: [{ ink: 'Coral', halftone: { regions } }],
      ticket: { ...ticket, plateLimits: limits },
    });
    const [finding] = runCheck(toneOutOfRange, job).findings;
    expect(finding.advice.printer).toContain('48.5 lpi instead of 58');
    expect(finding.advice.printer).toContain('mesh 150/cm, 31 µm');
  });
});

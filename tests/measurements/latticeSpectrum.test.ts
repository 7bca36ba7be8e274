import { expect, it } from 'vitest';
import { latticeSpectrum } from '../../src/measurements/latticeSpectrum.ts';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { layPatches, patchedPlate } from '../support/halftonePlates.ts';
import { screenOf, spotFunctions } from '../support/screenedPlane.ts';

const rulingLpi = 50;
const angleDeg = 27;
const black = screenOf({ rulingLpi, angleDeg, spot: spotFunctions.round, phase: [0.2, 0.4] });
const patches = layPatches(1, 1, 16, 3);

it('is strongest at the frequencies the dots were drawn with, up as seen', () => {
  const plate = patchedPlate(patches, 720, (_, x, y) => black(x, y, 0.3));
  const { image, reachLpi } = latticeSpectrum(plate, measureHalftone(plate).regions[0])!;
  const middle = (image.widthPx - 1) / 2;
  const toneAt = (turnDeg: number, lpi: number) => {
    const angle = (turnDeg * Math.PI) / 180;
    const column = Math.round(middle * (1 + (lpi / reachLpi) * Math.cos(angle)));
    const row = Math.round(middle * (1 - (lpi / reachLpi) * Math.sin(angle)));
    let most = 0;
    for (let r = row - 1; r <= row + 1; r++)
      for (let c = column - 1; c <= column + 1; c++) most = Math.max(most, image.tones[r * image.widthPx + c]);
    return most;
  };
  for (const turn of [0, 90, 180, 270]) expect(toneAt(angleDeg + turn, rulingLpi), `at ${turn}°`).toBeGreaterThan(240);
  for (const turn of [0, 90]) expect(toneAt(turn - angleDeg, rulingLpi), `mirrored, ${turn}°`).toBeLessThan(120);
});

it('is of a window that shows the lattice, and of none where nothing does', () => {
  const plate = patchedPlate(patches, 720, (_, x, y) => black(x, y, 0.3));
  const [region] = measureHalftone(plate).regions;
  const corner = { xMm: 0, yMm: 0, widthMm: 6, heightMm: 6 };
  expect(latticeSpectrum(plate, { ...region, boxMm: corner })).not.toBeNull();
  expect(latticeSpectrum(plate, { ...region, rulingLpi: 80 })).toBeNull();
  expect(latticeSpectrum(plate, { ...region, rulingLpi: null })).toBeNull();
});

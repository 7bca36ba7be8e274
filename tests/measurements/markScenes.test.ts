import { describe, expect, it } from 'vitest';
import { measureMarks } from '../../src/measurements/measureMarks.ts';
import { measureRegistration } from '../../src/measurements/measureRegistration.ts';
import { type SceneWishes, sceneDesigns, sceneOf } from '../support/markScenes.ts';
import { fitErrors, scoreScene } from '../support/markScores.ts';

/** Films of one class, one scene a design; tests/bench/markRates.ts draws many more. */
const classes: Record<string, Omit<SceneWishes, 'seed'>> = {
  plain: {},
  lost: { special: 'lost' },
  covered: { special: 'covered' },
  'white on black': { special: 'reversed' },
  'crosses in the art': { special: 'repeat' },
  'plus signs in the art': { special: 'plus' },
  'light blur': { scan: { blurPx: 1.2, noise: 8 }, dpis: [300], mostPixels: 1e6 },
};

describe('marks of films whose every measure is known', () => {
  for (const [name, wishes] of Object.entries(classes)) {
    it(`misses none and sees none that is not there: ${name}`, () => {
      let [squares, axes] = [0, 0];
      // Scans take long to draw: every third design.
      const designs = sceneDesigns.filter((_, k) => wishes.scan === undefined || k % 3 === 0);
      for (const [k, design] of designs.entries()) {
        const scene = sceneOf({
          mostPixels: 3e6,
          dpis: [300, 600, 1200],
          ...wishes,
          designs: [design],
          seed: 9000 + k,
        });
        const found = measureMarks(scene.films.map(({ plate }) => plate));
        const score = scoreScene(scene, found);
        expect(score.missed, scene.label).toBe(0);
        expect(score.falsely, scene.label).toBe(0);
        expect(score.lostTold, scene.label).toBe(score.lost);
        if (name !== 'covered') expect(score.wrongBars, scene.label).toBe(0);
        for (const { design: own, offPx } of score.offs) {
          if (own === 'cross' || name === 'covered') continue;
          squares += offPx * offPx;
          axes++;
        }
        // A quarter of a pixel over the shorter side of the marks; for bare crosses the half pixel of each of four lines.
        const pitchMm = 25.4 / scene.dpi;
        const slack = design === 'cross' ? 2 : 0.25;
        const reach = (of: (mark: { xMm: number; yMm: number }) => number): number =>
          Math.max(...scene.films[0].marks.map(of)) - Math.min(...scene.films[0].marks.map(of));
        const spanMm = Math.min(
          reach(({ xMm }) => xMm),
          reach(({ yMm }) => yMm),
        );
        for (const { turnDeg, scalePpm } of fitErrors(scene, measureRegistration(found))) {
          expect(turnDeg, scene.label).toBeLessThan((slack * pitchMm * 180) / (spanMm * Math.PI));
          expect(scalePpm, scene.label).toBeLessThan((1e6 * slack * pitchMm) / spanMm);
        }
      }
      if (axes > 0) expect(Math.sqrt(squares / axes), 'px, all but bare crosses').toBeLessThan(0.05);
    });
  }
});

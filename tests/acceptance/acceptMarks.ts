import { measureMarks } from '../../src/measurements/measureMarks.ts';
import { measureRegistration } from '../../src/measurements/measureRegistration.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { seededRandom } from '../support/seededRandom.ts';
import { artOf, designs, drawnFilm, type FilmSize, type Lie, markInk, onFilm, ringed } from './markFilms.ts';
import { scanned } from './screenedFilms.ts';
import type { Tally } from './tally.ts';

const atRest: Lie = { dxMm: 0, dyMm: 0, turnDeg: 0, scaleX: 1, scaleY: 1 };
const foundWithinMm = 0.6;

/** Lines along the pixels are known to half of one: at 600 dpi that is 160 millionths of the 130 mm of a small film. */
const sizes = (isLarge: boolean) => (isLarge ? 'of 280 to 500 mm' : 'of 130 to 190 mm');

/** Sets of three films with four marks of one design, each film lying differently; as drawn, and lightly blurred. */
export function marksAndFits(tally: Tally, seed: number, sets: number, blurred: boolean): void {
  const random = seededRandom(seed);
  const sort = blurred ? 'lightly blurred' : 'clean';
  for (let set = 0; set < sets; set++) {
    const design = designs[set % designs.length];
    const dpi = blurred ? [360, 600][set % 2] : [600, 720, 1200][set % 3];
    const isLarge = set % 2 === 1;
    const [widthMm, heightMm] = isLarge
      ? [280 + 120 * random(), 360 + 140 * random()]
      : [150 + 40 * random(), 130 + 40 * random()];
    const size: FilmSize = { widthMm, heightMm, dpi };
    const sizeMm = 6 + 6 * random();
    const lineMm = 0.12 + 0.14 * random();
    const places = [
      [12, size.heightMm / 2],
      [size.widthMm - 12, size.heightMm / 2],
      [size.widthMm / 2, 11],
      [size.widthMm / 2, size.heightMm - 11],
    ];
    const marks = places.map(([xMm, yMm]) => ({ xMm, yMm, reachMm: sizeMm, ink: markInk(design, sizeMm, lineMm) }));
    const lies = [0, 1, 2].map((k): Lie => {
      const scale = 1 + (random() - 0.5) * 0.004;
      return k === 0
        ? atRest
        : { dxMm: random() - 0.5, dyMm: random() - 0.5, turnDeg: (random() - 0.5) * 0.8, scaleX: scale, scaleY: scale };
    });
    const plates = lies.map((lie, k): Plate => {
      const film = drawnFilm(`p${k + 1}`, size, lie, [...marks, ...artOf(size, 12, random)]);
      return blurred ? { ...scanned(film, dpi, 1.2, 8, random), id: film.id } : film;
    });
    const measured = measureMarks(plates);
    lies.forEach((lie, k) => {
      const found = [...measured[k].marks];
      for (const [xMm, yMm] of places) {
        const [x, y] = onFilm(size, lie, xMm, yMm);
        const index = found.findIndex((mark) => Math.hypot(mark.xMm - x, mark.yMm - y) <= foundWithinMm);
        const story = `${design} of ${sizeMm.toFixed(1)} mm, lines ${lineMm.toFixed(2)} mm, at ${dpi} dpi, film ${k + 1}`;
        tally.add(`marks, ${sort}: found`, index >= 0, story);
        if (index < 0) continue;
        const [mark] = found.splice(index, 1);
        const kind = ringed.has(design) ? 'ring' : design === 'cross' ? 'bare cross' : 'other';
        const pitchMm = 25.4 / dpi;
        tally.measure(`marks, ${sort}: centre off along x, pixels, ${kind}`, (mark.xMm - x) / pitchMm, story);
        tally.measure(`marks, ${sort}: centre off along y, pixels, ${kind}`, (mark.yMm - y) / pitchMm, story);
      }
      for (const mark of found)
        tally.add(
          `marks, ${sort}: none where there is none`,
          false,
          `${design}, film ${k + 1}, ${mark.kind} at ${mark.xMm.toFixed(1)}, ${mark.yMm.toFixed(1)} mm`,
        );
      if (found.length === 0) tally.add(`marks, ${sort}: none where there is none`, true, '');
    });
    const registration = measureRegistration(measured, plates);
    if (blurred || registration?.referencePlateId !== 'p1') continue;
    for (const fit of registration.plates) {
      const lie = lies[Number(fit.plateId.slice(1)) - 1];
      const story = `${design} at ${dpi} dpi, turned ${lie.turnDeg.toFixed(3)}°, scaled ${lie.scaleX.toFixed(5)}`;
      tally.add('fits: rotation and scale are told', fit.rotationDeg !== null && fit.scale !== null, story);
      if (fit.rotationDeg === null || fit.scale === null) continue;
      const turnOff = fit.rotationDeg - lie.turnDeg;
      const scaleOff = fit.scale / lie.scaleX - 1;
      tally.measure('fits: rotation off, degrees', turnOff, story);
      tally.measure(
        `fits: scale off, ppm, ${isLarge ? 'films' : 'small films'} ${sizes(isLarge)}`,
        1e6 * scaleOff,
        story,
      );
      tally.add(
        'fits: rotation and scale within the bars they are told with',
        Math.abs(turnOff) <= fit.rotationPlusMinusDeg! && Math.abs(scaleOff) <= fit.scalePlusMinus!,
        `${story}: off ${turnOff.toFixed(5)}° ± ${fit.rotationPlusMinusDeg}, ${1e6 * scaleOff} ppm ± ${1e6 * fit.scalePlusMinus!}`,
      );
    }
  }
}

/** Pairs of films at 1,200 dpi with four marks that have a fine ring, the second turned, moved and stretched. */
export function fineRings(tally: Tally, seed: number, pairs: number): void {
  const random = seededRandom(seed);
  const size: FilmSize = { widthMm: 250, heightMm: 200, dpi: 1200 };
  const places = [
    [12, 100],
    [238, 100],
    [125, 11],
    [125, 189],
  ];
  for (let pair = 0; pair < pairs; pair++) {
    const design = (['ring', 'doubleRing', 'slantRing'] as const)[pair % 3];
    const sizeMm = 8 + 3 * random();
    const ink = markInk(design, sizeMm, 0.1 + 0.06 * random());
    const marks = places.map(([xMm, yMm]) => ({ xMm, yMm, reachMm: sizeMm, ink }));
    const scale = 1 + (random() - 0.5) * 0.004;
    const turnDeg = (random() - 0.5) * 0.8;
    const lie: Lie = { dxMm: random() - 0.5, dyMm: random() - 0.5, turnDeg, scaleX: scale, scaleY: scale };
    const plates = [atRest, lie].map((one, k) => drawnFilm(`p${k + 1}`, size, one, marks));
    const fit = measureRegistration(measureMarks(plates), plates)?.plates[0];
    const story = `${design}, turned ${turnDeg.toFixed(3)}°, scaled ${scale.toFixed(5)}`;
    const isTold = fit !== undefined && fit.rotationDeg !== null && fit.scale !== null;
    tally.add('four fine rings: rotation and scale are told', isTold, story);
    if (!isTold) continue;
    tally.measure('four fine rings: rotation off, degrees', fit.rotationDeg! - turnDeg, story);
    tally.measure('four fine rings: scale off, ppm', 1e6 * (fit.scale! / scale - 1), story);
  }
}

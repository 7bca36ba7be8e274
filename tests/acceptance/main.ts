import {
  alongPixels,
  flatTints,
  ghostscriptWedges,
  greyWedges,
  islands,
  kinds,
  lineArtWindows,
  wedges,
} from './acceptHalftones.ts';
import { fineRings, marksAndFits } from './acceptMarks.ts';
import { Tally } from './tally.ts';

// How often halftones and marks are read rightly, on films of a seed:
// node dist/tests/acceptance/main.js [seed] [films of each sort]
const seed = Number(process.argv[2] ?? 1);
const count = Number(process.argv[3] ?? 24);
const tally = new Tally();
const steps: readonly (() => void | Promise<void>)[] = [
  () => flatTints(tally, seed, count),
  () => wedges(tally, seed + 1, count),
  () => greyWedges(tally, seed + 2, Math.ceil(count / 2)),
  () => ghostscriptWedges(tally, seed + 3, Math.ceil(count / 2)),
  () => kinds(tally, seed + 4, Math.ceil(count / 6)),
  () => lineArtWindows(tally, seed + 5, Math.ceil(count / 3)),
  () => marksAndFits(tally, seed + 6, count, false),
  () => marksAndFits(tally, seed + 7, Math.ceil(count / 2), true),
  () => fineRings(tally, seed + 8, Math.ceil(count / 3)),
  () => islands(tally, seed + 9, 2 * count),
  () => alongPixels(tally, seed + 10, 6 * count),
];
for (const [index, step] of steps.entries()) {
  process.stderr.write(`part ${index + 1} of ${steps.length}\n`);
  await step();
}
process.stdout.write(`${tally.lines().join('\n')}\n`);

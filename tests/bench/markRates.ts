/**
 * Draws films of known marks and prints how many are missed, false, and how far off, by class: lost marks, marks under
 * other ink, white on black, cut by the edge, crosses in the art, scans. `node dist/tests/bench/markRates.js [scenes a
 * class] [first seed] [class]`.
 */
import { measureMarks } from '../../src/measurements/measureMarks.ts';
import { measureRegistration } from '../../src/measurements/measureRegistration.ts';
import { type Scene, type SceneWishes, sceneOf } from '../support/markScenes.ts';
import { fitErrors, scoreScene } from '../support/markScores.ts';

const scenes = Number(process.argv[2] ?? 20);
const firstSeed = Number(process.argv[3] ?? 1);
const only = process.argv[4] ?? '';
const verbose = process.argv[5] === 'verbose';

const classes: Record<string, Omit<SceneWishes, 'seed'>> = {
  plain: {},
  lost: { special: 'lost' },
  covered: { special: 'covered' },
  reversed: { special: 'reversed' },
  cut: { special: 'cut' },
  repeat: { special: 'repeat' },
  plus: { special: 'plus' },
  'light blur': { scan: { blurPx: 1.2, noise: 8 }, dpis: [300, 400, 600, 720], mostPixels: 3e6 },
  'heavy blur': { scan: { blurPx: 2.5, noise: 15 }, dpis: [300, 400, 600, 720], mostPixels: 3e6 },
};

const print = (line: string): boolean => process.stdout.write(`${line}\n`);
for (const [order, [name, wishes]] of Object.entries(classes).entries()) {
  if (only !== '' && !name.startsWith(only)) continue;
  const sums = { marks: 0, missed: 0, falsely: 0, blind: 0, lost: 0, lostTold: 0, wrongBars: 0 };
  const squares: Record<string, { sum: number; count: number; most: number }> = {};
  const missedOf: Record<string, number> = {};
  let turn = 0;
  let stretch = 0;
  let cpu = 0;
  for (let k = 0; k < scenes; k++) {
    const scene: Scene = sceneOf({ ...wishes, seed: firstSeed + k + 1000 * order });
    const start = process.cpuUsage();
    const found = measureMarks(scene.films.map(({ plate }) => plate));
    const used = process.cpuUsage(start);
    cpu += (used.user + used.system) / 1e6;
    const score = scoreScene(scene, found);
    for (const key of Object.keys(sums) as (keyof typeof sums)[]) sums[key] += score[key];
    for (const { design, offPx } of score.offs) {
      squares[design] ??= { sum: 0, count: 0, most: 0 };
      const own = squares[design];
      own.sum += offPx * offPx;
      own.count++;
      own.most = Math.max(own.most, Math.abs(offPx));
    }
    if (score.missed > 0) missedOf[scene.design] = (missedOf[scene.design] ?? 0) + score.missed;
    if (verbose && (score.missed > 0 || score.falsely > 0 || score.lost !== score.lostTold || score.wrongBars > 0)) {
      print(
        `  ${scene.label}: missed ${score.missed}, false ${score.falsely}, lost ${score.lost} told ${score.lostTold}, bars ${score.wrongBars}`,
      );
    }
    for (const error of fitErrors(scene, measureRegistration(found))) {
      turn = Math.max(turn, error.turnDeg);
      stretch = Math.max(stretch, error.scalePpm);
    }
  }
  print(
    `${name}: ${sums.marks} marks, missed ${sums.missed} (${((100 * sums.missed) / sums.marks).toFixed(1)} %, could not look ${sums.blind}), false ${sums.falsely}, ` +
      `lost ${sums.lost} told ${sums.lostTold}, beyond their error bar ${sums.wrongBars}, turn off ${turn.toFixed(4)} deg, scale off ${stretch.toFixed(0)} ppm, ${cpu.toFixed(1)} s`,
  );
  print(
    `   ${Object.entries(squares)
      .map(
        ([design, { sum, count, most }]) =>
          `${design} ${Math.sqrt(sum / count).toFixed(3)}/${most.toFixed(2)}${missedOf[design] ? ` (${missedOf[design]} missed)` : ''}`,
      )
      .join(', ')} px rms/max; never found: ${Object.keys(missedOf)
      .filter((design) => squares[design] === undefined)
      .join(', ')}`,
  );
}

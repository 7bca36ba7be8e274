import type { BoxMm } from '../geometry/box.ts';
import { printsFrom } from '../plateArchive/broadDifference.ts';
import type { PlateArchive } from '../plateArchive/openArchive.ts';

/** Of a larger box the middle rows are read. */
const mostPixels = 2_000_000;

/** Mean tone of what a plate prints within a box, 0 to 100; 0 where it prints nothing. */
export async function meanTonePercent(archive: PlateArchive | null, box: BoxMm): Promise<number> {
  if (archive === null) return 0;
  const { pitchXMm, pitchYMm } = archive.facts;
  const width = Math.max(1, Math.ceil(box.widthMm / pitchXMm));
  const height = Math.max(1, Math.ceil(box.heightMm / pitchYMm));
  const rows = Math.max(1, Math.min(height, Math.floor(mostPixels / width)));
  const top = Math.floor(box.yMm / pitchYMm + (height - rows) / 2);
  const tones = await archive.readTones(Math.floor(box.xMm / pitchXMm), top, width, rows);
  let [sum, count] = [0, 0];
  for (const tone of tones) {
    if (tone < printsFrom) continue;
    sum += tone;
    count++;
  }
  return count === 0 ? 0 : (100 * sum) / count / 255;
}

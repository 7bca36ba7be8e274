import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { LocalWidth } from '../../src/measurements/widthsAt.ts';
import { widthsAt } from '../../src/measurements/widthsAt.ts';
import type { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import type { WidthHere, WidthsHere } from '../shared/widths.ts';
import { asked } from './asked.ts';
import { revisionAt } from './jobRoutes.ts';
import { notThere, Refused } from './refused.ts';
import type { RevisionPlates } from './revisionPlates.ts';

const lengthMm = z.coerce.number().min(-100).max(10_000);
const query = z.strictObject({ plate: z.string().max(200), xMm: lengthMm, yMm: lengthMm });

/** As far as widths are sought, unless a film is so fine that the window would be larger than this. */
const usualSearchMm = 4;
const mostSearchPx = 400;
/** Windows measured at once; each takes some tens of megabytes. */
const mostAtOnce = 4;

/** How broad black and clear are at a point of a plate, read from a window of it. */
export function widthRoutes(server: FastifyInstance, { jobs }: OpenedStore, plates: RevisionPlates): void {
  let measuring = 0;

  server.get('/api/jobs/:job/:revision/widths', async (request) => {
    const { plate, xMm, yMm } = asked(query, request.query);
    const { artifacts } = await revisionAt(jobs, request.params);
    const kept = (await plates.list(artifacts))?.plates.find(({ plateId }) => plateId === plate);
    if (kept === undefined) throw notThere('plate kept of this revision');
    if (measuring >= mostAtOnce) throw new Refused(429, 'busy', 'Others are measuring just now.', 'Try again.');
    measuring += 1;
    try {
      return await widthsHere(await plates.open(artifacts, kept), xMm, yMm);
    } finally {
      measuring -= 1;
    }
  });
}

async function widthsHere(archive: PlateArchive, xMm: number, yMm: number): Promise<WidthsHere> {
  const { pitchXMm, pitchYMm } = archive.facts;
  const searchedToMm = Math.min(usualSearchMm, mostSearchPx * Math.min(pitchXMm, pitchYMm));
  // Edges of a width that begins within the search lie up to twice as far away.
  const acrossPx = Math.ceil((3 * searchedToMm) / pitchXMm);
  const downPx = Math.ceil((3 * searchedToMm) / pitchYMm);
  const left = Math.floor(xMm / pitchXMm) - acrossPx;
  const top = Math.floor(yMm / pitchYMm) - downPx;
  const [widthPx, heightPx] = [2 * acrossPx + 1, 2 * downPx + 1];
  const bits = await archive.readBits(left, top, widthPx, heightPx);
  const grid = { widthPx, heightPx, pitchXMm, pitchYMm };
  const corner = { xMm: left * pitchXMm, yMm: top * pitchYMm };
  const found = widthsAt({ grid, bits }, { xMm: xMm - corner.xMm, yMm: yMm - corner.yMm }, searchedToMm);
  const onPlate = (width: LocalWidth | null): WidthHere | null =>
    width && { ...width, xMm: width.xMm + corner.xMm, yMm: width.yMm + corner.yMm };
  return { at: found.at, black: onPlate(found.black), clear: onPlate(found.clear), searchedToMm };
}

import { archivePlate } from '../../../src/plateArchive/archivePlate.ts';
import { type BitPlane, createBitPlane, setBit } from '../../../src/raster/bitPlane.ts';
import type { TestReview } from './testReview.ts';

/** No two revisions have the same file. */
let bringCount = 0;

export interface DrawnInk {
  readonly inkName: string;
  /** Whether a pixel is opaque. */
  readonly isBlack: (column: number, row: number) => boolean;
}

export interface CheckedRevision {
  readonly inks: readonly DrawnInk[];
  readonly sidePx: number;
  readonly pitchMm: number;
  /** Of a report of this revision; a report without findings when left out. */
  readonly report?: object;
}

/** Brings the next revision of the job "bars.svg" and finishes it, as a worker does, with plates drawn by their pixels. */
export async function bringChecked(review: TestReview, revision: CheckedRevision): Promise<void> {
  const { jobs, blobs } = review.store;
  const { inks, sidePx, pitchMm } = revision;
  const uploads = [await review.upload('bars.svg', `<svg id="${bringCount++}"/>`)];
  await review.ask('POST', '/api/jobs', { uploads, by: 'Mila' });
  const { lease } = (await jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
  const grid = { widthPx: sidePx, heightPx: sidePx, pitchXMm: pitchMm, pitchYMm: pitchMm };
  const report = Buffer.from(JSON.stringify(revision.report ?? { films: [], checks: [] }));
  const artifacts = [{ kind: 'reportJson' as const, name: 'report.json', ...(await blobs.put(report)) }];
  const add = async (name: string, bytes: Uint8Array) => {
    artifacts.push({ kind: 'other' as 'reportJson', name: `plates/${name}`, ...(await blobs.put(bytes)) });
  };
  const plates: object[] = [];
  for (const [index, { inkName, isBlack }] of inks.entries()) {
    const plateId = `p${index + 1}`;
    const { facts, bytes } = archivePlate({
      ...{ id: plateId, inkId: `i${index + 1}`, filmId: 'f1', grid, tone: null, verified: true },
      ...{ bits: drawn(sidePx, isBlack), toneHistogram: new Float64Array(256) },
    });
    plates.push({
      ...{ ...facts, plateId, inkId: `i${index + 1}`, inkName, displayHex: '#000000', filmId: 'f1' },
      file: `${plateId}.plate`,
    });
    await add(`${plateId}.plate`, bytes);
  }
  await add('plates.json', Buffer.from(JSON.stringify({ tileSidePx: 512, plates })));
  const inkNames = inks.map(({ inkName }) => inkName);
  await jobs.finish(lease, { verdict: 'pass', reason: null, artifacts, inkNames, timings: {} });
}

function drawn(sidePx: number, isBlack: DrawnInk['isBlack']): BitPlane {
  const bits = createBitPlane(sidePx, sidePx);
  for (let row = 0; row < sidePx; row++)
    for (let column = 0; column < sidePx; column++) if (isBlack(column, row)) setBit(bits, column, row);
  return bits;
}

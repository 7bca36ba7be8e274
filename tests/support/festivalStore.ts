import { openJobStore } from '../../src/jobs/openJobStore.ts';
import type { ArchivedPlate } from '../../src/plateArchive/archiveFormat.ts';
import { archivePlate } from '../../src/plateArchive/archivePlate.ts';
import { type BitPlane, createBitPlane } from '../../src/raster/bitPlane.ts';
import { inspectionFixture } from './inspectionFixture.ts';

/** 300 megapixels in portrait. */
export const widthPx = 15_000;
export const heightPx = 20_000;
export const plateCount = 12;

/**
 * Puts a checked job of twelve plates into an empty store; `paint` is given the number of a plate, from 1. Only so many
 * are painted; they come again in turn.
 */
export async function fillFestival(
  folder: string,
  paint: (plate: BitPlane, n: number) => void = paintNoise,
  painted: number = plateCount,
): Promise<void> {
  const store = await openJobStore({ location: folder, owner: 'a test' });
  const { jobs, blobs } = store;
  const kept: object[] = [];
  const artifacts: { kind: 'other' | 'reportJson'; name: string; sha256: string; sizeBytes: number }[] = [];
  const archives: { facts: ArchivedPlate; put: { sha256: string; sizeBytes: number } }[] = [];
  for (let n = 1; n <= painted; n++) {
    const bits = createBitPlane(widthPx, heightPx);
    paint(bits, n);
    const grid = { widthPx, heightPx, pitchXMm: 0.02, pitchYMm: 0.02 };
    const { facts, bytes } = archivePlate({
      ...{ id: `p${n}`, inkId: `i${n}`, filmId: 'f1', grid, bits, tone: null, verified: true },
      toneHistogram: new Float64Array(256),
    });
    archives.push({ facts, put: await blobs.put(bytes) });
  }
  for (let n = 1; n <= plateCount; n++) {
    const file = `p${n}.plate`;
    const { facts, put } = archives[(n - 1) % painted];
    kept.push({
      ...facts,
      plateId: `p${n}`,
      inkId: `i${n}`,
      inkName: `Ink ${n}`,
      displayHex: '#204060',
      filmId: 'f1',
      file,
    });
    artifacts.push({ kind: 'other', name: `plates/${file}`, ...put });
  }
  const { report } = inspectionFixture({ inks: plateCount });
  const put = await blobs.put(Buffer.from(JSON.stringify(report)));
  artifacts.push({ kind: 'reportJson', name: 'report.json', ...put });
  const list = Buffer.from(JSON.stringify({ tileSidePx: 512, plates: kept }));
  artifacts.push({ kind: 'other', name: 'plates/plates.json', ...(await blobs.put(list)) });
  const file = { name: 'festival.tif', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/festival.tif' };
  const source = { kind: 'commandLine' as const, detail: '' };
  const arrival = { jobName: 'festival', customer: null, source, files: [file], ticketFile: null };
  await jobs.takeIn({ ...arrival, arrivedAt: 0, by: 'test', placeAt: null });
  const { lease } = (await jobs.claim({ workerId: 'test', leaseMs: 60_000 }))!;
  await jobs.finish(lease, { verdict: 'pass', reason: null, artifacts, inkNames: [], timings: {} });
  await store.close();
}

/** Noise of an eighth in every word: no tile is clear, and none packs well. */
function paintNoise({ words }: BitPlane, n: number): void {
  let state = n * 2_654_435_761;
  const next = () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
    return state ^ (state >>> 16);
  };
  for (let at = 0; at < words.length; at++) words[at] = next() & next() & next();
}

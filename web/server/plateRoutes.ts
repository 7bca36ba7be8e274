import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { asked } from './asked.ts';
import { revisionAt } from './jobRoutes.ts';
import { notThere } from './refused.ts';
import { plateListOf, type RevisionPlates } from './revisionPlates.ts';

const whole = z.coerce.number().int().min(0).max(1_000_000);
const tilePlace = z.object({ level: whole, column: whole, row: whole });

/** Plates for looking at. A tile never changes: what was checked again has another address. */
export function plateRoutes(server: FastifyInstance, { jobs }: OpenedStore, plates: RevisionPlates): void {
  server.get('/api/jobs/:job/:revision/plates', async (request) => {
    const { artifacts } = await revisionAt(jobs, request.params);
    const [list, version] = [await plates.list(artifacts), plates.version(artifacts)];
    if (list === null || version === null) throw notThere('plate kept of this revision');
    return plateListOf(list, version);
  });

  server.get('/api/jobs/:job/:revision/tiles/:level/:column/:row', async (request, reply) => {
    const { level, column, row } = asked(tilePlace, request.params);
    const { artifacts } = await revisionAt(jobs, request.params);
    const group = await plates.group(artifacts, level, column, row);
    if (group === null) throw notThere('tile');
    return reply
      .header('content-type', 'application/octet-stream')
      .header('cache-control', 'private, max-age=31536000, immutable')
      .send(Buffer.from(group.buffer, group.byteOffset, group.length));
  });
}

import { createReadStream } from 'node:fs';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { asked } from './asked.ts';
import { revisionAt } from './jobRoutes.ts';
import { notThere } from './refused.ts';

const named = z.object({ '*': z.string().max(300) });
const contentTypes: Record<string, string> = {
  json: 'application/json; charset=utf-8',
  html: 'text/html; charset=utf-8',
  pdf: 'application/pdf',
  png: 'image/png',
};

/** The files of a report as they were written. Only names that the store has for the revision are ever looked up. */
export function reportRoutes(server: FastifyInstance, { jobs, blobs }: OpenedStore): void {
  server.get('/api/jobs/:job/:revision/files/*', async (request, reply) => {
    const { '*': name } = asked(named, request.params);
    const { artifacts } = await revisionAt(jobs, request.params);
    const artifact = artifacts.find((one) => one.name === name);
    const type = contentTypes[/\.(\w+)$/.exec(name)?.[1] ?? ''];
    if (artifact === undefined || type === undefined) throw notThere('file of this revision');
    reply.header('content-type', type).header('content-length', artifact.sizeBytes);
    // The report stands by itself: its pictures and its style are in it, and it has no script.
    if (type.startsWith('text/html'))
      reply.header(
        'content-security-policy',
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:",
      );
    return reply.send(createReadStream(blobs.pathOf(artifact.sha256)));
  });
}

import { createReadStream } from 'node:fs';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { asked } from './asked.ts';
import type { DecidedReports } from './decidedReports.ts';
import { revisionAt } from './jobRoutes.ts';
import { notThere } from './refused.ts';

const named = z.object({ '*': z.string().max(300) });
const written = z.object({ job: z.coerce.number().int().min(1), format: z.enum(['json', 'html', 'pdf']) });
const contentTypes: Record<string, string> = {
  json: 'application/json; charset=utf-8',
  html: 'text/html; charset=utf-8',
  pdf: 'application/pdf',
  png: 'image/png',
};

/**
 * The files of a report as the check wrote them, and the report with what people decided since. Only names that the store
 * has for the revision are ever looked up.
 */
export function reportRoutes(server: FastifyInstance, { jobs, blobs }: OpenedStore, reports: DecidedReports): void {
  server.get('/api/jobs/:job/:revision/files/*', async (request, reply) => {
    const { '*': name } = asked(named, request.params);
    const { artifacts } = await revisionAt(jobs, request.params);
    const artifact = artifacts.find((one) => one.name === name);
    const type = contentTypes[/\.(\w+)$/.exec(name)?.[1] ?? ''];
    if (artifact === undefined || type === undefined) throw notThere('file of this revision');
    reply.header('content-length', artifact.sizeBytes);
    return typed(reply, type).send(createReadStream(blobs.pathOf(artifact.sha256)));
  });

  server.get('/api/jobs/:job/:revision/report.:format', async (request, reply) => {
    const { job, format } = asked(written, request.params);
    const revision = await revisionAt(jobs, request.params);
    const report = await reports.of((await jobs.job(job))!, revision);
    if (report === null) throw notThere('report of this revision');
    return typed(reply, contentTypes[format]).send(Buffer.from(report[format]));
  });
}

function typed(reply: FastifyReply, type: string): FastifyReply {
  reply.header('content-type', type);
  // The report stands by itself: its pictures and its style are in it, and it has no script.
  if (type.startsWith('text/html'))
    reply.header(
      'content-security-policy',
      "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:",
    );
  return reply;
}

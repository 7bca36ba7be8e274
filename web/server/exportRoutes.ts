import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import { z } from 'zod';
import type { BlobStore, OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Job } from '../../src/jobs/jobTypes.ts';
import type { JobFacts } from '../shared/jobs.ts';
import { asked } from './asked.ts';
import { decisionsInWords } from './decisionsInWords.ts';
import { jobFactsOf } from './jobFacts.ts';
import { notThere } from './refused.ts';

const place = z.object({ job: z.coerce.number().int().min(1) });

/** One archive of a job: its facts with decisions and history, the decisions in words, the reports of every revision. */
export function exportRoutes(server: FastifyInstance, { jobs, blobs }: OpenedStore): void {
  server.get('/api/jobs/:job/export', async (request, reply) => {
    const job = await jobs.job(asked(place, request.params).job);
    if (job === null) throw notThere('job');
    return reply
      .header('content-type', 'application/zip')
      .header('content-disposition', `attachment; filename="plateglass-job-${job.jobId}.zip"`)
      .send(Readable.from(archiveOf(job, jobFactsOf(job), blobs)));
  });
}

/** A piece at a time: one file of a report is held in memory, never all. */
async function* archiveOf(job: Job, facts: JobFacts, blobs: BlobStore): AsyncGenerator<Uint8Array> {
  const ready: Uint8Array[] = [];
  const archive = new Zip((error, data) => {
    if (error) throw error;
    ready.push(data);
  });
  const add = (name: string, bytes: Uint8Array) => {
    const entry = /\.(png|pdf)$/.test(name) ? new ZipPassThrough(name) : new ZipDeflate(name, { level: 6 });
    archive.add(entry);
    entry.push(bytes, true);
    return ready.splice(0);
  };
  yield* add('job.json', Buffer.from(`${JSON.stringify(facts, null, 2)}\n`));
  yield* add('decisions.txt', Buffer.from(decisionsInWords(facts)));
  for (const { revision, artifacts } of job.revisions) {
    for (const { name, kind, sha256 } of artifacts)
      if (kind !== 'other') yield* add(`revision ${revision}/${name}`, await blobs.read(sha256));
  }
  archive.end();
  yield* ready.splice(0);
}

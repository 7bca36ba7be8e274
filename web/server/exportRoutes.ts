import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import { z } from 'zod';
import type { BlobStore, OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Job } from '../../src/jobs/jobTypes.ts';
import { asked } from './asked.ts';
import { type DecidedReports, decisionsOf } from './decidedReports.ts';
import { decisionsInWords } from './decisionsInWords.ts';
import { jobFactsOf } from './jobFacts.ts';
import { notThere } from './refused.ts';

const place = z.object({ job: z.coerce.number().int().min(1) });

/**
 * One archive of a job: its facts with decisions and history, the decisions in words, the reports of every revision with
 * what was decided of it.
 */
export function exportRoutes(server: FastifyInstance, { jobs, blobs }: OpenedStore, reports: DecidedReports): void {
  server.get('/api/jobs/:job/export', async (request, reply) => {
    const job = await jobs.job(asked(place, request.params).job);
    if (job === null) throw notThere('job');
    return reply
      .header('content-type', 'application/zip')
      .header('content-disposition', `attachment; filename="plateglass-job-${job.jobId}.zip"`)
      .send(Readable.from(archiveOf(job, blobs, reports)));
  });
}

/** A piece at a time: one file of a report is held in memory, never all. */
async function* archiveOf(job: Job, blobs: BlobStore, reports: DecidedReports): AsyncGenerator<Uint8Array> {
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
  yield* add('job.json', Buffer.from(`${JSON.stringify(jobFactsOf(job), null, 2)}\n`));
  const decided = job.revisions
    .map((revision) => ({ decisions: decisionsOf(job, revision), answers: revision.answers }))
    .reverse();
  yield* add('decisions.txt', Buffer.from(decisionsInWords(job.jobName, decided)));
  for (const revision of job.revisions) {
    const report = await reports.of(job, revision);
    for (const { name, kind, sha256 } of revision.artifacts) {
      if (kind === 'other') continue;
      const format = kind === 'picture' ? undefined : formats[kind];
      const bytes = format === undefined || report === null ? await blobs.read(sha256) : report[format];
      yield* add(`revision ${revision.revision}/${name}`, bytes);
    }
  }
  archive.end();
  yield* ready.splice(0);
}

const formats = { reportJson: 'json', reportHtml: 'html', reportPdf: 'pdf' } as const;

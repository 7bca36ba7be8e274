import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { TakenIn } from '../../src/jobs/jobTypes.ts';
import type { NewJobFacts } from '../shared/uploads.ts';
import { whoAsks } from './access.ts';
import { asked } from './asked.ts';
import { bringJob, withTicket } from './bringJobs.ts';
import { jobLineOf } from './jobFacts.ts';
import { notThere } from './refused.ts';
import type { ShopFile } from './shopFile.ts';
import { soundTicket } from './soundTicket.ts';
import type { Uploads } from './uploads.ts';

const mostFiles = 200;
const plainName = z
  .string()
  .trim()
  .min(1)
  .max(200)
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what no name may have.
  .regex(/^[^\u0000-\u001f\u007f]*$/, 'there is a character in it that no name may have');
const ticket = z.record(z.string(), z.unknown());
const by = z.string().trim().min(1).max(80).optional();

const newJob = z.strictObject({
  uploads: z.array(z.string().max(64)).min(1).max(mostFiles),
  jobId: z.number().int().min(1).optional(),
  jobName: plainName.optional(),
  customer: plainName.optional(),
  ticket: ticket.optional(),
  by,
});
const newTicket = z.strictObject({ ticket, by });
const place = z.object({ job: z.coerce.number().int().min(1) });

export interface BringParts {
  readonly store: OpenedStore;
  readonly uploads: Uploads;
  readonly shop: ShopFile;
  /** There is something to check. */
  readonly brought: (jobId: number) => void;
}

/** Jobs and tickets that are brought through the page. */
export function bringRoutes(server: FastifyInstance, { store, uploads, shop, brought }: BringParts): void {
  const answer = async ({ kind, jobId, revisionId }: TakenIn): Promise<NewJobFacts> => {
    brought(jobId);
    return { kind, job: jobLineOf((await store.jobs.revision(revisionId))!) };
  };

  server.post('/api/jobs', async (request, reply) => {
    const body = asked(newJob, request.body);
    const { uploads: uploadIds, jobId, jobName, customer } = body;
    const ticketText = body.ticket === undefined ? null : await soundTicket(body.ticket, shop);
    const job = { uploadIds, jobId, jobName, customer, ticketText, by: whoAsks(request, body.by) };
    return reply.status(201).send(await answer(await bringJob(store, uploads, job)));
  });

  server.put('/api/jobs/:job/ticket', async (request) => {
    const body = asked(newTicket, request.body);
    const revision = (await store.jobs.job(asked(place, request.params).job))?.revisions.at(-1);
    if (revision === undefined) throw notThere('job');
    const text = await soundTicket(body.ticket, shop);
    return answer(await withTicket(store, revision, text, whoAsks(request, body.by)));
  });
}

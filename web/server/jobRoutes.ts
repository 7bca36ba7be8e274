import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { type JobFilter, type Revision, revisionStates } from '../../src/jobs/jobTypes.ts';
import { asked } from './asked.ts';
import { jobFactsOf, jobLineOf } from './jobFacts.ts';
import { notThere } from './refused.ts';

const text = z.string().trim().min(1).max(200);
const time = z.coerce.number().int().min(0);

const listQuery = z.strictObject({
  text: text.optional(),
  customer: text.optional(),
  ink: text.optional(),
  verdict: z.enum(['pass', 'needsReview', 'fail', 'couldNotRun']).optional(),
  state: z.enum(revisionStates as [string, ...string[]]).optional(),
  standing: z.enum(['released', 'onHold', 'none']).optional(),
  from: time.optional(),
  before: time.optional(),
  after: z.string().max(200).optional(),
});

const finding = z.strictObject({
  checkId: z.string().regex(/^[a-z-]{1,60}$/),
  code: z.string().regex(/^[a-zA-Z-]{1,60}$/),
  inkNames: z.array(z.string().max(400)).max(60),
});
const by = z.string().trim().min(1).max(80);
const reason = z.string().trim().max(2000);
const decisionBody = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.enum(['release', 'hold']), by, reason }),
  z.strictObject({ kind: z.literal('acceptFinding'), by, reason: reason.min(1), finding }),
  z.strictObject({ kind: z.literal('undo'), by, reason, decisionId: z.number().int().min(1) }),
]);

const place = z.object({ job: z.coerce.number().int().min(1), revision: z.coerce.number().int().min(1) });

/** The list, one job, and what people decide. `changed` tells every open page. */
export function jobRoutes(server: FastifyInstance, { jobs }: OpenedStore, changed: (jobId: number) => void): void {
  server.get('/api/jobs', async (request) => {
    const query = asked(listQuery, request.query);
    const filter: JobFilter = {
      name: query.text,
      customer: query.customer,
      ink: query.ink,
      verdicts: query.verdict === undefined ? undefined : [query.verdict],
      states:
        query.state === undefined
          ? undefined
          : [query.state as JobFilter['states'] extends readonly (infer S)[] | undefined ? S : never],
      standing: query.standing,
      arrivedFrom: query.from,
      arrivedBefore: query.before,
      after: query.after,
      limit: 60,
    };
    const [{ revisions, next }, { now }] = await Promise.all([jobs.find(filter), jobs.counts()]);
    return { jobs: revisions.map(jobLineOf), next, now };
  });

  server.get('/api/jobs/:job', async (request) => {
    const { job } = asked(place.pick({ job: true }), request.params);
    const found = await jobs.job(job);
    if (found === null) throw notThere('job');
    return jobFactsOf(found);
  });

  server.post('/api/jobs/:job/:revision/decisions', async (request) => {
    const revision = await revisionAt(jobs, request.params);
    const decision = asked(decisionBody, request.body);
    if (decision.kind === 'undo') {
      await jobs.undoDecision(decision.decisionId, decision.by, decision.reason);
    } else await jobs.decide({ revisionId: revision.revisionId, ...decision });
    changed(revision.jobId);
    return jobFactsOf((await jobs.job(revision.jobId))!);
  });
}

/** The revision a path names. */
export async function revisionAt(jobs: OpenedStore['jobs'], params: unknown): Promise<Revision> {
  const { job, revision } = asked(place, params);
  const found = (await jobs.job(job))?.revisions.find((one) => one.revision === revision);
  if (found === undefined) throw notThere('revision of a job');
  return found;
}

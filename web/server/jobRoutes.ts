import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { type JobFilter, type Revision, revisionStates } from '../../src/jobs/jobTypes.ts';
import { whoAsks } from './access.ts';
import { asked } from './asked.ts';
import { jobFactsOf, jobLineOf } from './jobFacts.ts';
import { notThere, Refused } from './refused.ts';

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
/** Left out where the account says it. */
const by = z.string().trim().min(1).max(80).optional();
const reason = z.string().trim().max(2000);
const decisionBody = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.enum(['release', 'hold', 'askCustomer']), by, reason }),
  z.strictObject({ kind: z.enum(['acceptFinding', 'doOurselves']), by, reason: reason.min(1), finding }),
  z.strictObject({ kind: z.literal('undo'), by, reason, decisionId: z.number().int().min(1) }),
]);

const place = z.object({ job: z.coerce.number().int().min(1), revision: z.coerce.number().int().min(1) });

/** Only what is the latest and was checked may be filmed. */
function refuseRelease({ isLatest, state }: Revision): void {
  if (!isLatest) throw new Refused(409, 'not-latest', 'A later revision of this job came.', 'Release the latest one.');
  if (state !== 'checked')
    throw new Refused(409, 'not-checked', 'This revision has not been checked.', 'Wait for its report first.');
}

/** The list, one job, and what people decide. `changed` tells every open page. */
export function jobRoutes(server: FastifyInstance, { jobs }: OpenedStore, changed: (jobId: number) => void): void {
  server.get('/api/jobs', async (request) => {
    const query = asked(listQuery, request.query);
    const filter: JobFilter = {
      text: query.text,
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
    const who = whoAsks(request, decision.by);
    if (decision.kind === 'undo') {
      if (!revision.decisions.some(({ id }) => id === decision.decisionId)) throw notThere('decision');
      if (!(await jobs.undoDecision(decision.decisionId, who, decision.reason)))
        throw new Refused(409, 'undone-before', 'That was undone before.', 'Look at the history.');
    } else {
      if (decision.kind === 'release') refuseRelease(revision);
      await jobs.decide({ revisionId: revision.revisionId, ...decision, by: who });
    }
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

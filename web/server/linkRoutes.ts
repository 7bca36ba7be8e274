import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { noteLanguages } from '../../src/fixNotes/words/wordsIn.ts';
import { customerUrl, newCustomerLink } from '../../src/jobs/customerToken.ts';
import type { CustomerLink } from '../../src/jobs/customerTypes.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { type LinksFacts, mostLinkDays, type NewLinkFacts } from '../shared/links.ts';
import { whoAsks } from './access.ts';
import { asked } from './asked.ts';
import { notThere, Refused } from './refused.ts';

/** What the shop has set for the page that customers see. */
export interface LinkSettings {
  readonly address: string | null;
  readonly validDays: number;
}

const by = z.string().trim().min(1).max(80).optional();
const newLink = z.strictObject({
  days: z.number().int().min(1).max(mostLinkDays).optional(),
  language: z.enum(noteLanguages as [string, ...string[]]).optional(),
  units: z.enum(['mm', 'inch']).optional(),
  by,
});
const jobPlace = z.object({ job: z.coerce.number().int().min(1) });
const linkPlace = jobPlace.extend({ link: z.coerce.number().int().min(1) });
const closing = z.strictObject({ by }).nullish();
const dayMs = 86_400_000;

/** Links to a job for its customer: made, listed and closed by people of the shop. */
export function linkRoutes(
  server: FastifyInstance,
  { jobs }: OpenedStore,
  settings: () => Promise<LinkSettings>,
  changed: (jobId: number) => void,
): void {
  const factsOf = async (jobId: number): Promise<LinksFacts> => ({
    ...(await settings()),
    links: (await jobs.customerLinks(jobId)).map(linkFactsOf),
  });
  const jobOf = async (params: unknown) => {
    const { job } = asked(jobPlace, params);
    if ((await jobs.job(job)) === null) throw notThere('job');
    return job;
  };

  server.get('/api/jobs/:job/links', async (request) => factsOf(await jobOf(request.params)));

  server.post('/api/jobs/:job/links', async (request, reply): Promise<NewLinkFacts> => {
    const jobId = await jobOf(request.params);
    const { days, language, units, by: name } = asked(newLink, request.body);
    const { address, validDays } = await settings();
    if (address === null)
      throw new Refused(
        409,
        'no-customer-page',
        'This server has no page for customers.',
        'Start plateglass serve with --customer-address.',
      );
    const { token } = await newCustomerLink(jobs, {
      ...{ jobId, by: whoAsks(request, name), validForMs: (days ?? validDays) * dayMs },
      ...{ language: language ?? null, units: units ?? null },
    });
    changed(jobId);
    reply.status(201);
    return { ...(await factsOf(jobId)), url: customerUrl(address, token) };
  });

  server.delete('/api/jobs/:job/links/:link', async (request) => {
    const { link } = asked(linkPlace, request.params);
    const jobId = await jobOf(request.params);
    if (!(await jobs.customerLinks(jobId)).some(({ id }) => id === link)) throw notThere('link');
    await jobs.revokeCustomerLink(link, whoAsks(request, asked(closing, request.body)?.by));
    changed(jobId);
    return factsOf(jobId);
  });
}

function linkFactsOf({ id, madeAt, madeBy, expiresAt, revoked, isOpen }: CustomerLink) {
  return { id, madeAt, madeBy, expiresAt, revoked, isOpen };
}

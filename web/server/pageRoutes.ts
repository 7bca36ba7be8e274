import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Artifact } from '../../src/jobs/jobTypes.ts';
import { asked } from './asked.ts';
import { notThere } from './refused.ts';

const place = z.object({ job: z.coerce.number().int().min(1) });
const query = z.object({ revision: z.coerce.number().int().min(1).optional() });
const jobView = /^\/jobs\/(\d{1,15})(?:\/(\d{1,9}))?$/;
const pictureName = 'composite.png';

/** The picture of a job, to be seen while everything else is still on its way. */
export function pictureRoute(server: FastifyInstance, store: OpenedStore): void {
  server.get('/api/jobs/:job/picture', async (request, reply) => {
    const { job } = asked(place, request.params);
    const picture = await pictureOf(store, job, asked(query, request.query).revision);
    if (picture === null) throw notThere('picture of this job');
    return reply
      .header('content-type', 'image/png')
      .header('content-length', picture.sizeBytes)
      .send(createReadStream(store.blobs.pathOf(picture.sha256)));
  });
}

async function pictureOf({ jobs }: OpenedStore, jobId: number, revision: number | undefined): Promise<Artifact | null> {
  const job = await jobs.job(jobId);
  const found = job?.revisions.find((one) => (revision === undefined ? one.isLatest : one.revision === revision));
  return found?.artifacts.find(({ name }) => name === pictureName) ?? null;
}

/**
 * The page, for an address of one of its views; null for any other. That of a job begins with its picture, which is then
 * there before the program of the page is.
 *
 * @param mayLook whether who asks may be told that there is such a job
 */
export function pageOf(
  pageFolder: string,
  store: OpenedStore,
  mayLook: (request: FastifyRequest) => boolean,
): (request: FastifyRequest, reply: FastifyReply) => Promise<string> | null {
  return (request, reply) => {
    const { pathname } = new URL(request.url, 'http://page');
    // What has an ending would be a file.
    if (request.method !== 'GET' || /^\/(api|assets)(\/|$)/.test(pathname) || /\.[^/]*$/.test(pathname)) return null;
    reply.status(200).header('content-type', 'text/html; charset=utf-8');
    const [, job, revision] = (mayLook(request) && jobView.exec(pathname)) || [];
    return withPicture(job === undefined ? null : Number(job), revision === undefined ? undefined : Number(revision));
  };

  async function withPicture(job: number | null, revision: number | undefined): Promise<string> {
    const page = await readFile(join(pageFolder, 'index.html'), 'utf8');
    // A page without its picture is of more use than none.
    const picture = job === null ? null : await pictureOf(store, job, revision).catch(() => null);
    if (picture === null) return page;
    const src = `/api/jobs/${job}/picture${revision === undefined ? '' : `?revision=${revision}`}`;
    return page.replace('<div id="page">', `<img id="first-picture" class="film-preview" src="${src}" alt="" />$&`);
  }
}

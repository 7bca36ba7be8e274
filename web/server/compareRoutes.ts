import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Revision } from '../../src/jobs/jobTypes.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import type { ComparedRevision, Comparison } from '../shared/compare.ts';
import { asked } from './asked.ts';
import { comparedFindings } from './comparedFindings.ts';
import type { Comparisons } from './comparisons.ts';
import { revisionAt } from './jobRoutes.ts';
import { notThere } from './refused.ts';

const number = z.coerce.number().int().min(1);
const both = z.object({ job: number, before: number, after: number });
const whole = z.coerce.number().int().min(0).max(1_000_000);
const tilePlace = z.object({ level: whole, column: whole, row: whole });

/** Two revisions of a job beside each other: which findings are fixed, and where the films differ. */
export function compareRoutes(server: FastifyInstance, { jobs, blobs }: OpenedStore, comparisons: Comparisons): void {
  const revisions = async (params: unknown): Promise<[Revision, Revision]> => {
    const { job, before, after } = asked(both, params);
    return [await revisionAt(jobs, { job, revision: before }), await revisionAt(jobs, { job, revision: after })];
  };
  const reportOf = async ({ artifacts }: Revision): Promise<ReportJson | null> => {
    const known = artifacts.find(({ kind }) => kind === 'reportJson');
    return known === undefined ? null : JSON.parse(Buffer.from(await blobs.read(known.sha256)).toString('utf8'));
  };
  const factsOf = ({ revision }: Revision, report: ReportJson | null): ComparedRevision => ({
    revision,
    filmsMm: (report?.films ?? []).map(({ widthMm, heightMm }) => ({ widthMm, heightMm })),
  });

  server.get('/api/jobs/:job/compare/:before/:after', async (request): Promise<Comparison> => {
    const [was, is] = await revisions(request.params);
    const [reportBefore, reportAfter] = await Promise.all([reportOf(was), reportOf(is)]);
    const plates = await comparisons.inks(was.artifacts, is.artifacts);
    return {
      before: factsOf(was, reportBefore),
      after: factsOf(is, reportAfter),
      difference: plates?.list ?? null,
      inks: plates?.inks ?? [],
      findings: comparedFindings(reportBefore, reportAfter),
    };
  });

  server.get('/api/jobs/:job/compare/:before/:after/tiles/:level/:column/:row', async (request, reply) => {
    const [was, is] = await revisions(request.params);
    const group = await comparisons.group(was.artifacts, is.artifacts, asked(tilePlace, request.params));
    if (group === null) throw notThere('tile');
    return reply
      .header('content-type', 'application/octet-stream')
      .header('cache-control', 'private, max-age=31536000, immutable')
      .send(Buffer.from(group.buffer, group.byteOffset, group.length));
  });
}

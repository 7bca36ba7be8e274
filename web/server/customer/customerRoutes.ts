import { createReadStream } from 'node:fs';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { NoteUnits } from '../../../src/fixNotes/noteQuantities.ts';
import type { NoteLanguage } from '../../../src/fixNotes/words/wordsIn.ts';
import type { CustomerLink } from '../../../src/jobs/customerTypes.ts';
import type { OpenedStore } from '../../../src/jobs/jobStore.ts';
import type { Revision } from '../../../src/jobs/jobTypes.ts';
import { shownText } from '../../../src/report/words.ts';
import {
  type CustomerFilesTaken,
  type CustomerState,
  mostCustomerFiles,
  mostCustomerMegabytes,
} from '../../shared/customer.ts';
import { asked } from '../asked.ts';
import { Refused } from '../refused.ts';
import { SlowDown } from '../slowDown.ts';
import { uploadRoutes } from '../uploadRoutes.ts';
import { Uploads } from '../uploads.ts';
import type { Typed } from './answerForm.ts';
import { type CustomerPageParts, customerPage, stateMark } from './customerPage.ts';
import { artifactOf, CustomerViews, compositeName, type ShopVoice } from './customerView.ts';
import { safeFileName } from './fileNames.ts';
import { linkOf, nothingHere, tooMany } from './guardCustomers.ts';
import { takeFiles } from './takeFiles.ts';
import { customerWords, languageWanted } from './words/wordsIn.ts';

const hourMs = 3_600_000;
const mostAnswersAnHour = 20;
const mostUploadsAnHour = 60;
const mostProofsAnHour = 30;
const mostFormBytes = 32 * 1024;

const wish = z.object({
  language: z.string().max(10).optional(),
  units: z.enum(['mm', 'inch']).optional().catch(undefined),
});
const picture = z.object({ revision: z.coerce.number().int().min(1), file: z.string().max(40) });
const answer = z.object({
  kind: z.enum(['approved', 'declined']),
  films: z.string().regex(/^[0-9a-f]{64}$/),
  name: z.string().max(400),
  remark: z.string().max(8_000),
});
const files = z.strictObject({
  uploads: z.array(z.string().max(64)).min(1).max(mostCustomerFiles),
  name: z.string().max(400),
});

interface ProofWish {
  readonly language: NoteLanguage;
  readonly units: NoteUnits;
}

export interface CustomerParts {
  readonly store: OpenedStore;
  /** Files on their way in lie here; each link sees its own alone. */
  readonly uploadFolder: string;
  readonly voice: () => Promise<ShopVoice>;
  /** The page that is signed, as a PDF; null where there is nothing to approve. */
  readonly proofPdf: (revision: Revision, wish: ProofWish) => Promise<Uint8Array | null>;
  /** The job has another answer, or something to be checked. */
  readonly changed: (jobId: number) => void;
  readonly brought: (jobId: number) => void;
}

/** The page of a link, its pictures, and what can be done on it. All of it stands below the token. */
export function customerRoutes(server: FastifyInstance, parts: CustomerParts): void {
  const { store, voice, changed, brought } = parts;
  const views = new CustomerViews(store, voice);
  const answering = new SlowDown(mostAnswersAnHour, hourMs);
  const proving = new SlowDown(mostProofsAnHour, hourMs);
  const uploading = new SlowDown(mostUploadsAnHour, hourMs);

  const wishOf = async (request: FastifyRequest, link: CustomerLink) => {
    const wanted = asked(wish, request.query);
    const shop = await voice();
    const browser = (request.headers['accept-language'] ?? '').slice(0, 200).split(',');
    const units: NoteUnits = wanted.units ?? link.units ?? shop.units ?? 'mm';
    return {
      language: languageWanted([wanted.language, link.language, ...browser, shop.language]),
      units,
      shop: shop.shop ?? '',
    };
  };
  const show = async (request: FastifyRequest, reply: FastifyReply, status: number, typed?: Typed) => {
    const link = linkOf(request);
    const { language, units, shop } = await wishOf(request, link);
    const view = await views.of(link, language, units);
    const { token } = request.params as { token: string };
    const page: CustomerPageParts = {
      view,
      link,
      path: `/c/${token}`,
      words: customerWords(language),
      units,
      shop,
      typed,
    };
    return reply.status(status).header('content-type', 'text/html; charset=utf-8').send(customerPage(page));
  };

  server.get('/c/:token', async (request, reply) => show(request, reply, 200));

  server.get('/c/:token/state', async (request): Promise<CustomerState> => {
    const latest = (await store.jobs.job(linkOf(request).jobId))?.revisions.at(-1);
    if (latest === undefined) throw nothingHere();
    return { mark: stateMark(latest) };
  });

  server.get('/c/:token/:revision/:file', async (request, reply) => {
    const place = picture.safeParse(request.params);
    if (!place.success) throw nothingHere();
    const { revision, file } = place.data;
    const link = linkOf(request);
    const { language, units } = await wishOf(request, link);
    const view = await views.of(link, language, units);
    // The picture of another revision would be shown beside the words of this one.
    if (view.checked === null || view.revision.revision !== revision) throw nothingHere();
    if (file === 'proof.pdf' && view.checked.proof !== null) {
      if (!proving.mayTry(String(link.id))) throw tooMany();
      const pdf = await parts.proofPdf(view.revision, { language, units });
      if (pdf === null) throw nothingHere();
      reply.headers({ 'content-type': 'application/pdf', 'content-disposition': 'inline; filename="proof.pdf"' });
      return reply.send(Buffer.from(pdf));
    }
    reply.header('content-type', 'image/png');
    const composite = artifactOf(view.revision, compositeName);
    if (file === 'proof.png' && view.checked.proof !== null && composite !== null)
      return reply
        .header('content-length', composite.sizeBytes)
        .send(createReadStream(store.blobs.pathOf(composite.sha256)));
    const found = [...view.checked.pictures.values()].find(({ fileName }) => fileName === file);
    if (found === undefined) throw nothingHere();
    return reply.send(Buffer.from(found.png));
  });

  server.register(async (scope) => {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser('application/x-www-form-urlencoded', { parseAs: 'string' }, (_request, body, done) =>
      done(null, Object.fromEntries(new URLSearchParams(body as string))),
    );
    scope.post('/c/:token/answer', { bodyLimit: mostFormBytes }, async (request, reply) => {
      const link = linkOf(request);
      const { kind, films, name: typedName, remark: typedRemark } = asked(answer, request.body);
      const name = oneLine(typedName, 80);
      const remark = lines(typedRemark);
      const again = (status: number, wrong: Typed['wrong']) => show(request, reply, status, { name, remark, wrong });
      if (!answering.mayTry(String(link.id))) return again(429, 'wrong.tooMany');
      if (name === '') return again(422, 'wrong.name');
      if (kind === 'declined' && remark === '') return again(422, 'wrong.remark');
      const latest = (await store.jobs.job(link.jobId))?.revisions.at(-1);
      if (latest === undefined) throw nothingHere();
      const { language, units } = await wishOf(request, link);
      if (kind === 'approved' && latest.contentKey === films) {
        const { checked } = await views.of(link, language, units);
        if (checked?.proof == null) return again(409, 'wrong.newer');
      }
      const { revisionId } = latest;
      const said = { linkId: link.id, revisionId, contentKey: films, kind, name, remark };
      const { outcome } = await store.jobs.answerAsCustomer(said);
      if (outcome === 'closed') throw nothingHere();
      if (outcome === 'superseded' || outcome === 'notChecked') return again(409, 'wrong.newer');
      changed(link.jobId);
      const { token } = request.params as { token: string };
      return reply.redirect(`/c/${token}?language=${language}&units=${units}#answer`, 303);
    });
  });

  const most = { fileBytes: mostCustomerMegabytes * 1_000_000, open: mostCustomerFiles };
  const byLink = new Map<number, Uploads>();
  const uploadsOf = (request: FastifyRequest): Uploads => {
    const { id } = linkOf(request);
    const known = byLink.get(id) ?? new Uploads(parts.uploadFolder, `link ${id}`, most);
    byLink.set(id, known);
    return known;
  };
  const named = (request: FastifyRequest, name: string): string => {
    if (!uploading.mayTry(String(linkOf(request).id)))
      throw new Refused(429, 'busy', 'Many files were sent under this link.', 'Wait an hour.');
    return safeFileName(name);
  };
  uploadRoutes(server, { path: '/c/:token/uploads', uploadsOf, named });

  server.post('/c/:token/files', async (request): Promise<CustomerFilesTaken> => {
    const { jobId } = linkOf(request);
    const { uploads: ids, name: typedName } = asked(files, request.body);
    const name = oneLine(typedName, 80);
    if (name === '') throw new Refused(400, 'no-name', 'There is no name.', 'Give your name.');
    const latest = (await store.jobs.job(jobId))?.revisions.at(-1);
    if (latest === undefined) throw nothingHere();
    const { kind } = await takeFiles(store, uploadsOf(request), latest, { ids, name });
    brought(jobId);
    return { kind: kind === 'alreadyKnown' ? kind : 'newRevision' };
  });
}

function oneLine(text: string, most: number): string {
  return shownText(text.normalize('NFC')).trim().slice(0, most).trim();
}

/** A remark may have lines, and nothing else that is not seen. */
function lines(text: string): string {
  return text
    .normalize('NFC')
    .split(/\r\n|\r|\n/)
    .map((line) => shownText(line).trimEnd())
    .join('\n')
    .trim()
    .slice(0, 2_000);
}

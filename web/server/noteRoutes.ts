import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import { customerUrl, newCustomerLink } from '../../src/jobs/customerToken.ts';
import type { NewCustomerLink } from '../../src/jobs/customerTypes.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Effect, Job, Revision } from '../../src/jobs/jobTypes.ts';
import { mailKind, type QueuedMail, queueMail } from '../../src/post/outbox.ts';
import { longestExtra, longestGreeting, type MailFacts, type NoteFacts } from '../shared/notes.ts';
import { whoAsks } from './access.ts';
import { asked } from './asked.ts';
import { decisionsOf } from './decidedReports.ts';
import { revisionAt } from './jobRoutes.ts';
import type { LinkSettings } from './linkRoutes.ts';
import { type NoteDesk, noteFormats, type PageLink, type PaperFiles, type PaperSource } from './noteDesk.ts';
import { notThere, Refused } from './refused.ts';
import type { RevisionPlates } from './revisionPlates.ts';

const dayMs = 86_400_000;
const paper = z.object({ language: z.string().max(8).optional(), units: z.enum(['mm', 'inch']).optional() });
const ask = paper.extend({
  customer: z.string().max(200).optional(),
  answerBy: z.iso.date().optional(),
  greeting: z.string().max(longestGreeting).optional(),
  extra: z.string().max(longestExtra).optional(),
  since: z.literal('none').optional(),
});
const to = z.string().min(1).max(400);
const shown = ask.extend({ page: z.string().max(8).default('en') });
const written = ask.extend({ to: to.optional() });
const sending = ask.extend({ to, by: z.string().min(1).max(80).optional(), again: z.number().int().min(1).optional() });
const format = z.object({ format: z.enum(noteFormats) });
const listFormat = z.object({ format: z.enum(['txt', 'md']) });
const mailPlace = z.object({ mail: z.coerce.number().int().min(1) });

const contentTypes = {
  eml: 'message/rfc822',
  html: 'text/html; charset=utf-8',
  pdf: 'application/pdf',
  txt: 'text/plain; charset=utf-8',
  md: 'text/markdown; charset=utf-8',
} as const;

export interface NoteRouteTools {
  readonly store: OpenedStore;
  readonly plates: RevisionPlates;
  readonly desk: NoteDesk;
  readonly changed: (jobId: number) => void;
  readonly customerPage: () => Promise<LinkSettings>;
  /** A mail waits to be sent. */
  readonly nudgePost: () => void;
}

/**
 * The note to the customer as it can be changed, written and sent, the shop's own work list, and the proof. A note is
 * given to the post once: the same words to the same address are refused, unless they are sent once more on purpose.
 */
export function noteRoutes(
  server: FastifyInstance,
  { store, plates, desk, customerPage, changed, nudgePost }: NoteRouteTools,
): void {
  const { jobs } = store;
  const found = async (params: unknown): Promise<{ revision: Revision; source: PaperSource }> => {
    const revision = await revisionAt(jobs, params);
    return { revision, source: await sourceOf(store, plates, revision) };
  };

  server.get('/api/jobs/:job/:revision/note', async (request): Promise<NoteFacts> => {
    const { page, ...wish } = asked(shown, request.query);
    const { revision, source } = await found(request.params);
    const [facts, mails] = await Promise.all([desk.note(source, given(wish), page), mailsOf(store, revision)]);
    return { ...facts, mails };
  });

  server.get('/api/jobs/:job/:revision/note.:format', async (request, reply) => {
    const kind = asked(format, request.params).format;
    const wish = given(asked(written, request.query));
    const { source } = await found(request.params);
    return download(reply, `note.${kind}`, kind).send(Buffer.from(await desk.rendered(source, wish, kind)));
  });

  server.get('/api/jobs/:job/:revision/worklist.:format', async (request, reply) => {
    const kind = asked(listFormat, request.params).format;
    const { source } = await found(request.params);
    const list = Buffer.from(await desk.workList(source, given(asked(paper, request.query))));
    // The list is Markdown that has no marks but those of its headings.
    const shown = kind === 'txt' ? Buffer.from(list.toString('utf8').replace(/^#+ /gm, '')) : list;
    return download(reply, `work-list.${kind}`, kind).send(shown);
  });

  server.get('/api/jobs/:job/:revision/proof.pdf', async (request, reply) => {
    const { source } = await found(request.params);
    const proof = await desk.proof(source, given(asked(paper, request.query)));
    if (proof === null)
      throw new Refused(
        409,
        'nothing-to-approve',
        'There is nothing to approve yet: the size of a film is not known.',
        'Give the resolution on the ticket, and check it again.',
      );
    return download(reply, 'proof.pdf', 'pdf').send(Buffer.from(proof));
  });

  server.post('/api/jobs/:job/:revision/note', async (request): Promise<readonly MailFacts[]> => {
    const { by, again = 0, ...wish } = asked(sending, request.body);
    const { revision, source } = await found(request.params);
    const who = whoAsks(request, by);
    const { language = null, units = null } = given(wish);
    const link = await madeLink(jobs, await customerPage(), { jobId: revision.jobId, by: who, language, units });
    const closeLink = async () => link !== null && jobs.revokeCustomerLink(link.id, who);
    const { key, ...mail } = await desk.mail(source, given(wish), again, link).catch(async (error) => {
      await closeLink();
      throw error;
    });
    if (!(await queueMail(jobs, key, mail, { revisionId: revision.revisionId, by: who }))) {
      await closeLink();
      throw new Refused(
        409,
        'sent-before',
        `This note was given to the post for ${mail.envelope.to} before.`,
        'It does not go out a second time by itself; look at the mails below.',
      );
    }
    nudgePost();
    changed(revision.jobId);
    return mailsOf(store, revision);
  });

  server.get('/api/jobs/:job/:revision/mails/:mail', async (request, reply) => {
    const { mail } = asked(mailPlace, request.params);
    const { revisionId } = await revisionAt(jobs, request.params);
    const effect = (await jobs.effectsOf(revisionId, mailKind)).find(({ effectId }) => effectId === mail);
    if (effect === undefined) throw notThere('mail of this revision');
    const bytes = Buffer.from((effect.payload as QueuedMail).mailBase64, 'base64');
    return download(reply, `mail-${mail}.eml`, 'eml').send(bytes);
  });
}

/** A link for the mail; null where customers are shown no page. */
async function madeLink(
  jobs: OpenedStore['jobs'],
  { address, validDays }: LinkSettings,
  wish: Pick<NewCustomerLink, 'jobId' | 'by' | 'language' | 'units'>,
): Promise<(PageLink & { readonly id: number }) | null> {
  if (address === null) return null;
  const { link, token } = await newCustomerLink(jobs, { ...wish, validForMs: validDays * dayMs });
  const openUntil = new Date(link.expiresAt).toISOString().slice(0, 10);
  return { id: link.id, url: customerUrl(address, token), openUntil };
}

/** What is empty was not asked for. */
function given<Wish extends object>(wish: Wish): Wish {
  return Object.fromEntries(Object.entries(wish).filter(([, value]) => value !== '' && value !== undefined)) as Wish;
}

/** What papers of a revision are made of. */
export async function sourceOf(store: OpenedStore, plates: RevisionPlates, revision: Revision): Promise<PaperSource> {
  const files = await filesOf(store, plates, revision);
  if (files === null) throw notThere('report of this revision');
  const job = (await store.jobs.job(revision.jobId))!;
  return {
    ...files,
    decisions: decisionsOf(job, revision),
    customer: revision.customer,
    before: await filesBefore(store, plates, job, revision),
  };
}

async function filesBefore(
  store: OpenedStore,
  plates: RevisionPlates,
  job: Job,
  { revision }: Revision,
): Promise<PaperFiles | null> {
  for (const one of job.revisions.filter((other) => other.revision < revision).reverse()) {
    const files = one.state === 'checked' ? await filesOf(store, plates, one) : null;
    if (files !== null) return files;
  }
  return null;
}

/** Null where the check left no report. */
async function filesOf(
  { blobs }: OpenedStore,
  plates: RevisionPlates,
  { artifacts }: Revision,
): Promise<PaperFiles | null> {
  const fileOf = (name: string) => {
    const artifact = artifacts.find((one) => one.name === name);
    return artifact === undefined ? null : blobs.pathOf(artifact.sha256);
  };
  const reportFile = fileOf('report.json');
  if (reportFile === null) return null;
  return { reportFile, compositeFile: fileOf('composite.png'), plates: await plates.filesOf(artifacts) };
}

async function mailsOf({ jobs }: OpenedStore, { revisionId }: Revision): Promise<MailFacts[]> {
  return (await jobs.effectsOf(revisionId, mailKind)).map(mailFactsOf).reverse();
}

function mailFactsOf({ effectId, payload, state, reason, addedAt, doneAt }: Effect): MailFacts {
  const { envelope, subject = '', messageId = '' } = payload as QueuedMail;
  return {
    ...{ mailId: effectId, to: envelope.to, subject, messageId, reason, addedAt, sentAt: doneAt },
    state: state === 'done' ? 'sent' : state === 'setAside' ? 'givenUp' : 'waiting',
  };
}

function download(reply: FastifyReply, fileName: string, kind: keyof typeof contentTypes): FastifyReply {
  reply.header('content-type', contentTypes[kind]).header('content-disposition', `attachment; filename="${fileName}"`);
  // The note stands by itself: its pictures and its style are in it, and it has no script.
  if (kind === 'html')
    reply.header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; img-src data:");
  return reply;
}

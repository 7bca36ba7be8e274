import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { parseTicketText } from '../../src/ticket/parseTicketText.ts';
import type { JudgedFacts, TicketFacts } from '../shared/judged.ts';
import { asked } from './asked.ts';
import { revisionAt } from './jobRoutes.ts';
import { type Judge, judgeRevision, ticketTextOf } from './judgeAgain.ts';
import { Refused } from './refused.ts';
import type { ShopFile } from './shopFile.ts';
import { soundTicket } from './soundTicket.ts';

const ticketToJudge = z.strictObject({ ticket: z.record(z.string(), z.unknown()) });
/** Asked for at once; a page asks again when the ticket in it changes. */
const mostWaiting = 8;

export interface JudgeParts {
  readonly store: OpenedStore;
  readonly shop: ShopFile;
  readonly judge: Judge;
}

/** The ticket of a revision, and what its films come to by another one, without measuring them again. */
export function judgeRoutes(server: FastifyInstance, { store, shop, judge }: JudgeParts): void {
  let waiting = 0;

  server.get('/api/jobs/:job/:revision/ticket', async (request): Promise<TicketFacts> => {
    const ticket = await ticketTextOf(store.blobs, await revisionAt(store.jobs, request.params));
    if (ticket === null) return { fileName: null, values: {} };
    const { value } = parseTicketText(ticket.text);
    const isTicket = value === null || (typeof value === 'object' && !Array.isArray(value));
    return { fileName: ticket.fileName, values: isTicket ? ((value ?? {}) as TicketFacts['values']) : null };
  });

  server.post('/api/jobs/:job/:revision/judge', async (request): Promise<JudgedFacts> => {
    const { ticket } = asked(ticketToJudge, request.body);
    const revision = await revisionAt(store.jobs, request.params);
    const text = await soundTicket(ticket, shop);
    if (waiting >= mostWaiting)
      throw new Refused(429, 'busy', 'Others are judging just now.', 'Try again in a moment.');
    waiting += 1;
    try {
      const texts = { ticket: { fileName: 'ticket.json', text }, shop: await shop.textFile() };
      return await judgeRevision(judge, store.blobs, revision, texts);
    } finally {
      waiting -= 1;
    }
  });
}

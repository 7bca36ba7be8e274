import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { ticketJsonSchema } from '../../src/ticket/ticketJsonSchema.ts';
import { whoAsks } from './access.ts';
import { asked } from './asked.ts';
import { Refused } from './refused.ts';
import { keptBack, type ShopFile } from './shopFile.ts';
import type { PreviewShop } from './shopPreview.ts';

const values = z.record(z.string(), z.unknown());
const newShop = z.strictObject({
  values,
  version: z.string().max(64),
  by: z.string().trim().min(1).max(80).optional(),
});

export interface ShopParts {
  readonly shop: ShopFile;
  readonly preview: PreviewShop;
  readonly changed: () => void;
}

/** The shop's values, and what other values would change. */
export function shopRoutes(server: FastifyInstance, { shop, preview, changed }: ShopParts): void {
  let previewing = false;

  server.get('/api/ticket-schema', async () => ({
    ticket: ticketJsonSchema('ticket'),
    shop: pageSchema(),
  }));

  server.get('/api/shop', async () => shop.facts());

  server.put('/api/shop', { config: { role: 'administer' } }, async (request) => {
    const body = asked(newShop, request.body);
    await shop.save(body.values, body.version, whoAsks(request, body.by));
    changed();
    return shop.facts();
  });

  server.post('/api/shop/preview', { config: { role: 'administer' } }, async (request, reply) => {
    const text = await shop.textOf(asked(z.strictObject({ values }), request.body).values);
    if (previewing) throw new Refused(429, 'busy', 'Another preview is being made.', 'Wait until it is there.');
    previewing = true;
    const gone = new AbortController();
    reply.raw.once('close', () => gone.abort());
    try {
      return await preview(text, gone.signal);
    } finally {
      previewing = false;
    }
  });
}

/** The schema of what the page may set. */
function pageSchema(): Readonly<Record<string, unknown>> {
  const schema = ticketJsonSchema('shop');
  const properties = Object.entries(schema.properties as Readonly<Record<string, unknown>>);
  return { ...schema, properties: Object.fromEntries(properties.filter(([key]) => !keptBack.includes(key))) };
}

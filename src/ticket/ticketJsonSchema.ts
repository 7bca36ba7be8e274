import { z } from 'zod';
import { shopSchema, ticketSchema } from './ticketSchema.ts';

/** The JSON Schema (draft 2020-12) of a job ticket, or of the shop's file, for editors that complete and check keys. */
export function ticketJsonSchema(file: 'ticket' | 'shop' = 'ticket'): Readonly<Record<string, unknown>> {
  const schema = z.toJSONSchema(file === 'ticket' ? ticketSchema : shopSchema, { io: 'input' });
  return { ...schema, title: file === 'ticket' ? 'Plateglass job ticket' : 'Plateglass shop defaults' };
}

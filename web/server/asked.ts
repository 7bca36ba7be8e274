import type { z } from 'zod';
import { Refused } from './refused.ts';

/** What a request asks, if it is as it should be. */
export function asked<Schema extends z.ZodType>(schema: Schema, value: unknown): z.infer<Schema> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const [first] = result.error.issues;
  const where = first.path.join('.');
  throw new Refused(
    400,
    'wrong-request',
    `The request is not as it should be${where === '' ? '' : ` at ${where}`}: ${first.message}.`,
    'Load the page again; if it happens again, it is a fault of the program.',
  );
}

import { ticketJsonSchema } from '../src/ticket/ticketJsonSchema.ts';

/** Prints the JSON Schema of the job ticket. */
export function ticketSchemaCommand(): number {
  process.stdout.write(`${JSON.stringify(ticketJsonSchema(), null, 2)}\n`);
  return 0;
}

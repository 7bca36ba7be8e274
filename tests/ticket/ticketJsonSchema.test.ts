import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { ticketJsonSchema } from '../../src/ticket/ticketJsonSchema.ts';

interface Node {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly prefixItems?: readonly Node[];
  readonly anyOf?: readonly Node[];
  readonly additionalProperties?: unknown;
  readonly required?: readonly string[];
}

/** Whether every key of a value is one the schema names; a plain reading of `properties`, `items` and `anyOf`. */
function namesEveryKey(value: unknown, node: Node): boolean {
  if (node.anyOf) return node.anyOf.some((branch) => namesEveryKey(value, branch));
  if (Array.isArray(value))
    return value.every((item, index) => namesEveryKey(item, node.prefixItems?.[index] ?? node.items ?? {}));
  if (typeof value === 'object' && value !== null) {
    return (
      node.type === 'object' &&
      Object.entries(value).every(
        ([key, child]) => node.properties?.[key] && namesEveryKey(child, node.properties[key]),
      )
    );
  }
  return node.type !== 'object';
}

describe('ticketJsonSchema', () => {
  it('names every key of the tickets that are right, and no others', () => {
    const folder = new URL('../../fixtures/tickets/', import.meta.url);
    for (const file of readdirSync(folder)) {
      const schema = ticketJsonSchema(file === 'shop.yaml' ? 'shop' : 'ticket') as Node;
      expect(namesEveryKey(parse(readFileSync(new URL(file, folder), 'utf8')), schema), file).toBe(true);
    }
    expect(namesEveryKey({ garment: { color: 'x' } }, ticketJsonSchema() as Node)).toBe(false);
    expect(namesEveryKey({ meshes: [] }, ticketJsonSchema('ticket') as Node)).toBe(false);
  });

  it('is plain JSON, requires nothing and closes every group', () => {
    const schema = ticketJsonSchema() as Node;
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
    expect(schema.required).toBeUndefined();
    expect(schema.additionalProperties).toBe(false);
    expect(schema.properties?.press.additionalProperties).toBe(false);
  });
});

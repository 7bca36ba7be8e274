import { describe, expect, it } from 'vitest';
import { ticketJsonSchema } from '../../../src/ticket/ticketJsonSchema.ts';
import { millimetresOf } from '../../../web/page/src/forms/millimetresOf.ts';
import type { Schema } from '../../../web/page/src/forms/schema.ts';
import { fieldAt, fieldKeyOf, fieldWords } from '../../../web/page/src/words/fieldWords.ts';
import type { Language } from '../../../web/page/src/words/wordsIn.ts';
import { keptBack } from '../../../web/server/shopFile.ts';

/** Every path of a schema, lists with the place of their first item. */
function pathsOf(schema: Schema, path = ''): string[] {
  const below = [
    ...Object.entries(schema.properties ?? {}).map(
      ([key, part]) => [path === '' ? key : `${path}.${key}`, part] as const,
    ),
    ...(schema.prefixItems ?? []).map((part, index) => [`${path}[${index}]`, part] as const),
  ];
  const items = typeof schema.items === 'object' ? pathsOf(schema.items, `${path}[0]`) : [];
  const choices = (schema.anyOf ?? []).flatMap((part) => pathsOf(part, path));
  return [...below.flatMap(([at, part]) => [at, ...pathsOf(part, at)]), ...items, ...choices];
}

const ticket = pathsOf(ticketJsonSchema('ticket') as Schema);
const shop = pathsOf(ticketJsonSchema('shop') as Schema).filter((path) => !keptBack.includes(path.split('.')[0]));

describe('the fields of ticket and shop', () => {
  it('all have a name and an explanation, and no words are left over', () => {
    const used = new Set([...ticket, ...shop].map((path) => [path, fieldKeyOf(path)] as const));
    expect([...used].filter(([, key]) => key === null)).toEqual([]);
    expect(Object.keys(fieldWords.en).sort()).toEqual([...new Set([...used].map(([, key]) => key))].sort());
    for (const [language, words] of Object.entries(fieldWords)) {
      expect(Object.keys(words).sort(), language).toEqual(Object.keys(fieldWords.en).sort());
      for (const [key, [label, about]] of Object.entries(words)) {
        expect(label.trim().length, `${language} ${key}`).toBeGreaterThan(1);
        expect(about.trim(), `${language} ${key}`).toMatch(/.{4}[.?]$/);
      }
    }
  });

  it('have different names within one group, in every language', () => {
    for (const language of Object.keys(fieldWords) as Language[]) {
      const labels = [...new Set([...ticket, ...shop])].map((path) => {
        const group = path.replace(/(\.|^)[^.]+$/, '');
        return `${group} / ${fieldAt(language, path).label}`;
      });
      expect(
        labels.filter((label, index) => labels.indexOf(label) !== index),
        language,
      ).toEqual([]);
    }
  });

  it('take lengths in mm, cm and inches, with a comma or a fraction', () => {
    const cases: readonly (readonly [string, number | null])[] = [
      ['300', 300],
      ['12,5', 12.5],
      ['.25 mm', 0.25],
      ['10 cm', 100],
      ['11.5 in', 292.1],
      ['1/4 in', 6.35],
      ['11 3/4"', 298.45],
      ['1 Inch', 25.4],
      ['0', 0],
      ['11 3', null],
      ['-3', null],
      ['1/0', null],
      ['wide', null],
      ['', null],
    ];
    for (const [typed, mm] of cases) expect(millimetresOf(typed), typed).toBe(mm);
  });
});

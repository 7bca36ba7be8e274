import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { IntlMessageFormat } from 'intl-messageformat';
import { describe, expect, it } from 'vitest';
import { catalogues, type Language, wordsIn } from '../../../web/page/src/words/wordsIn.ts';

const languages = Object.keys(catalogues) as Language[];
const sources = fileURLToPath(new URL('../../../web/page/src', import.meta.url));

/** Names of the values a message takes. */
function valuesOf(message: string): string[] {
  const names = new Set<string>();
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(visit);
    else if (typeof value === 'object' && value !== null) {
      const part = value as Record<string, unknown>;
      // Types 1 to 6 of a parsed message take a value; 0 is text, 7 the number of a plural.
      if (typeof part.type === 'number' && part.type >= 1 && part.type <= 6) names.add(String(part.value));
      Object.values(part).forEach(visit);
    }
  };
  visit(new IntlMessageFormat(message, 'en').getAst());
  return [...names].sort();
}

describe('the messages of the page', () => {
  it('are there in every language, none of them empty, each with the same values', () => {
    const keys = Object.keys(catalogues.en).sort();
    for (const language of languages) {
      expect(Object.keys(catalogues[language]).sort(), language).toEqual(keys);
      for (const key of keys as (keyof typeof catalogues.en)[]) {
        const message = catalogues[language][key];
        expect(message.trim(), `${language} ${key}`).not.toBe('');
        expect(valuesOf(message), `${language} ${key}`).toEqual(valuesOf(catalogues.en[key]));
      }
    }
  });

  it('are all used', () => {
    const code = readdirSync(sources, { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name) && !/words\/(fields\/)?(en|es|de)\.ts$/.test(name))
      .map((name) => readFileSync(join(sources, name), 'utf8'))
      .join('\n');
    const unused = Object.keys(catalogues.en).filter((key) => {
      const family = key.slice(0, key.lastIndexOf('.') + 1);
      const isMade = family !== '' && (code.includes(`\`${family}$\{`) || code.includes(`'${family}'`));
      return !code.includes(`'${key}'`) && !isMade && !/^(verdict|state|standing)\./.test(key);
    });
    expect(unused).toEqual([]);
  });

  it('write numbers, moments and counts as the language does', () => {
    expect(wordsIn('en').number(1234.5, 2)).toBe('1,234.50');
    expect(wordsIn('de').number(1234.5, 2)).toBe('1.234,50');
    // Spanish groups from five figures on (the academy's orthography, and CLDR).
    expect(wordsIn('es').number(1234.5, 2)).toBe('1234,50');
    expect(wordsIn('de').say('places', { count: 1 })).toBe('1 Stelle');
    expect(wordsIn('es').say('places', { count: 5000 })).toMatch(/^5\.?000 lugares$/);
    expect(wordsIn('en').age(0, 3 * 60_000)).toContain('3');
  });
});

import { describe, expect, it } from 'vitest';
import type { FindingWords } from '../../src/fixNotes/words/catalogue.ts';
import { en } from '../../src/fixNotes/words/en.ts';
import { wordsIn } from '../../src/fixNotes/words/wordsIn.ts';
import { readingEase } from '../support/readingEase.ts';

const words = wordsIn('en');
const plain = 60;
/** Said for one and for several, with ink names and lengths as they are. */
const said = (messages: readonly string[]) =>
  [1, 5].map((count) =>
    messages
      .map((message) =>
        words.fill(message, {
          ...{ inks: count === 1 ? 'Coral' : 'Coral and Night', ink: 'Coral', other: 'Night', was: 'Night' },
          ...{ value: '2 mm', limit: '3 mm', safe: '4 mm', short: '1 mm', size: '4 mm × 3 mm', wasSize: '3 mm × 2 mm' },
          ...{ far: '1 mm to the right', by: '1 mm', tone: '40 %', wasTone: '10 %', names: 'none', customer: 'none' },
          ...{ count, many: count, number: count, most: count, before: 7, files: count, job: 'tee.pdf', page: 1 },
          ...{
            left: '5 mm',
            top: '6 mm',
            width: '7 mm',
            file: 'tee.pdf',
            date: 'June 24, 2030',
            first: 'Coral',
            last: 'Night',
          },
        }),
      )
      .join(' '),
  );
const hard = (texts: readonly (readonly [string, readonly string[]])[]) =>
  texts.flatMap(([name, messages]) =>
    said(messages)
      .map((text) => [name, Math.round(readingEase(text)), text] as const)
      .filter(([, ease]) => ease < plain),
  );

it('reading ease is reckoned as published', () => {
  // 6 words, 1 sentence, 6 syllables; 4 words of 2 syllables each.
  expect(readingEase('The cat sat on the mat.')).toBeCloseTo(206.835 - 1.015 * 6 - 84.6, 6);
  const office = 'Notwithstanding aforementioned specifications, reproduction necessitates supplementary preparation.';
  expect(readingEase(office)).toBeLessThan(0);
  expect(readingEase('Happy babies enjoy butter.')).toBeCloseTo(206.835 - 1.015 * 4 - 84.6 * 2, 6);
});

describe('what the customer reads in English is plain', () => {
  it('in every request', () => {
    const findings = en.findings as Readonly<Record<string, FindingWords>>;
    const requests = Object.entries(findings).flatMap(([id, { effect, offer, codes }]) =>
      Object.entries(codes).map(
        ([code, [defect, request]]) => [`${id}/${code}`, [defect, effect, request, en.offers[offer]]] as const,
      ),
    );
    const general = Object.entries(en.general).map(
      ([code, { defect, effect, request, offer }]) => [code, [defect, effect, request, en.offers[offer]]] as const,
    );
    expect(hard([...requests, ...general])).toEqual([]);
  });

  it('in every thanks, and every question about a change', () => {
    const { request, offer, right: _r, left: _l, up: _u, down: _d, ...changes } = en.changes;
    const settled = Object.values({ ...en.findings, ...en.general }).map((one) => one.settled);
    expect(hard(Object.entries(changes).map(([kind, message]) => [kind, [message, request, offer]]))).toEqual([]);
    expect(hard([['settled', settled]])).toEqual([]);
  });

  it('in what stands around them', () => {
    const { list: _list, others: _others, page: _page, noSize: _noSize, sizes: _sizes, ...frame } = en.frame;
    expect(hard([['all', Object.values(frame)]])).toEqual([]);
    expect(hard([['opening', [frame.opening, frame.ready]]])).toEqual([]);
  });
});

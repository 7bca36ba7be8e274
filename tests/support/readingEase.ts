import { syllable } from 'syllable';

/**
 * Flesch reading ease of an English text: 206.835 − 1.015 words a sentence − 84.6 syllables a word (R. Flesch, A new
 * readability yardstick, Journal of Applied Psychology 32, 1948; the figures from memory). 60 to 70 is plain English.
 * Numbers and colour values are passed over; units count as the words they stand for.
 */
export function readingEase(text: string): number {
  const spoken = text
    .replace(/\(#[0-9a-f]{6}\)/gi, '')
    .replace(/[\d.,]*\d[\d.,]*(?=[\s\u00a0%°]|$)/g, ' ')
    .replace(/\bmm\b/g, 'millimetres')
    .replace(/%/g, 'percent');
  const sentences = spoken.split(/[.?!:;]+(?:\s|$)/).filter((sentence) => /\p{L}/u.test(sentence));
  const words = spoken.match(/\p{L}[\p{L}’'-]*/gu) ?? [];
  const syllables = words.reduce((sum, word) => sum + Math.max(1, syllable(word)), 0);
  return 206.835 - 1.015 * (words.length / sentences.length) - 84.6 * (syllables / words.length);
}

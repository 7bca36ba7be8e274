import { describe, expect, it } from 'vitest';
import { colourWordOf, colourWords, hexOfColourWord } from '../../src/colour/colourWords.ts';

describe('colour words', () => {
  it('are each nearest to their own colour, or to a word of the same colour', () => {
    for (const word of colourWords)
      expect(hexOfColourWord(colourWordOf(hexOfColourWord(word)!)), word).toBe(hexOfColourWord(word));
  });

  it.each([
    ['#b3202c', 'red'],
    ['#e0a526', 'gold'],
    ['#0a0a0a', 'black'],
    ['#fdfdfd', 'white'],
    ['#6a4c93', 'purple'],
  ])('says what people would say of %s', (hex, word) => {
    expect(colourWordOf(hex)).toBe(word);
  });
});

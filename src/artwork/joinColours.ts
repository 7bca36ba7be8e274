import { colourWords, hexOfColourWord } from '../colour/colourWords.ts';
import { foldInkName } from '../colour/normaliseInkName.ts';

/** Words printers name inks by besides plain colour words. For showing only. */
const tradeWords: Readonly<Record<string, string>> = {
  base: '#ffffff',
  underbase: '#ffffff',
  key: '#1a1a1a',
  cyan: '#00a0c6',
  magenta: '#c8147a',
  lagoon: '#1f8a9e',
  night: '#1b2140',
  salmon: '#f08a78',
  mustard: '#c99a1e',
  plum: '#6f2c55',
  rust: '#a8502a',
  rose: '#d8607c',
  aqua: '#3bbcc4',
};

/** Muted colours, well apart, for names that say no colour. */
const neutrals = ['#4c5a68', '#8a7f6b', '#5f7a6a', '#7a6580', '#a08d5a', '#54788c', '#8c6056', '#6b7350'];

/** Longest first, so that "navy blue" is not taken for blue. */
const knownWords = [...colourWords, ...Object.keys(tradeWords)].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));

/** `#rrggbb` for an ink's name by the first colour word in it, else the neutral with this number. */
export function displayHexFor(name: string, index: number): string {
  const words = ` ${foldInkName(name)} `;
  const word = knownWords.find((known) => words.includes(` ${known} `));
  if (word === undefined) return neutrals[index % neutrals.length];
  return hexOfColourWord(word) ?? tradeWords[word];
}

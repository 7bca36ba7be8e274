import { deltaE2000OfHex } from './deltaE2000.ts';

/** Common English colour words and a plain sRGB value of each, for showing and naming only. */
const hexByWord: Readonly<Record<string, string>> = {
  black: '#000000',
  white: '#ffffff',
  grey: '#808080',
  gray: '#808080',
  silver: '#c0c0c0',
  charcoal: '#36454f',
  red: '#d2232a',
  maroon: '#800000',
  burgundy: '#800020',
  pink: '#f4a6b8',
  coral: '#ff7f50',
  orange: '#f58220',
  brown: '#7b4a2b',
  tan: '#d2b48c',
  sand: '#d9c7a3',
  cream: '#fff4d6',
  natural: '#f3ead8',
  gold: '#d4a72c',
  yellow: '#ffd400',
  olive: '#708238',
  lime: '#9acd32',
  green: '#1e8c45',
  'forest green': '#22512f',
  mint: '#a8e0c4',
  teal: '#008080',
  turquoise: '#30c5c0',
  'sky blue': '#87ceeb',
  blue: '#1f4fa8',
  'royal blue': '#2f4fb0',
  navy: '#1b2a41',
  'navy blue': '#1b2a41',
  purple: '#6a3d9a',
  violet: '#7f4fc9',
  lavender: '#c9b6e4',
};

/** The colour of a common English colour word as `#rrggbb`, or null when it is not one. */
export function hexOfColourWord(word: string): string | null {
  const key = word.trim().toLowerCase().replace(/\s+/gu, ' ');
  return Object.hasOwn(hexByWord, key) ? hexByWord[key] : null;
}

/** The words `hexOfColourWord` knows. */
export const colourWords: readonly string[] = Object.keys(hexByWord);

/** An ink as people speak of it: one that nobody named goes by its colour value, and is told by its colour too. */
export function spokenInkName(name: string): string {
  return /^#[0-9a-f]{6}$/i.test(name) ? `the ${colourWordOf(name)} ${name}` : name;
}

/** The common colour word nearest to a colour (CIEDE2000), for speaking of a colour nobody named. */
export function colourWordOf(hex: string): string {
  let nearest = '';
  let least = Number.POSITIVE_INFINITY;
  for (const [word, itsHex] of Object.entries(hexByWord)) {
    const difference = deltaE2000OfHex(hex, itsHex);
    if (difference < least) {
      nearest = word;
      least = difference;
    }
  }
  return nearest;
}

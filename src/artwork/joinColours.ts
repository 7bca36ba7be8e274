/** Display colours for common colour words, longest words first so that "navy blue" is navy. For showing only. */
const colourWords: readonly (readonly [string, string])[] = [
  ['turquoise', '#1fa8a0'],
  ['magenta', '#c8147a'],
  ['burgundy', '#6d1a2d'],
  ['lavender', '#a596cf'],
  ['mustard', '#c99a1e'],
  ['lagoon', '#1f8a9e'],
  ['orange', '#e8761c'],
  ['yellow', '#f5d800'],
  ['purple', '#6b3a8c'],
  ['violet', '#5d3f99'],
  ['silver', '#b4b8bc'],
  ['salmon', '#f08a78'],
  ['cream', '#f2e8cf'],
  ['coral', '#ef6a57'],
  ['white', '#ffffff'],
  ['black', '#1a1a1a'],
  ['night', '#1b2140'],
  ['brown', '#6e4a2e'],
  ['olive', '#6f7030'],
  ['green', '#2e8b4a'],
  ['cyan', '#00a0c6'],
  ['aqua', '#3bbcc4'],
  ['teal', '#17807e'],
  ['navy', '#1b2a57'],
  ['gold', '#c7a23a'],
  ['grey', '#8a8d90'],
  ['gray', '#8a8d90'],
  ['pink', '#ef8fb2'],
  ['blue', '#2660b4'],
  ['rose', '#d8607c'],
  ['sand', '#d8c39a'],
  ['lime', '#a3c930'],
  ['mint', '#9ad9b8'],
  ['plum', '#6f2c55'],
  ['rust', '#a8502a'],
  ['base', '#ffffff'],
  ['red', '#cf2e2e'],
  ['tan', '#c9a77c'],
  ['key', '#1a1a1a'],
];

/** Muted colours, well apart, for names that say no colour. */
const neutrals = ['#4c5a68', '#8a7f6b', '#5f7a6a', '#7a6580', '#a08d5a', '#54788c', '#8c6056', '#6b7350'];

/** `#rrggbb` for an ink's name, else the neutral with this number. */
export function displayHexFor(name: string, index: number): string {
  const words = name.toLowerCase();
  for (const [word, hex] of colourWords) if (words.includes(word)) return hex;
  return neutrals[index % neutrals.length];
}

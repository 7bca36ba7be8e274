import { unitsKept } from './format.ts';

/**
 * Breaks text at spaces into lines of at most `columns` characters, the first behind `first`, the others behind `next`.
 * No line ends between a number and its unit or error bar; a word longer than a line is cut. No text gives no line.
 */
export function brokenLines(text: string, columns: number, first: string, next = first): string[] {
  const lines: string[] = [];
  let line = '';
  const lead = () => (lines.length === 0 ? first : next);
  const room = () => Math.max(8, columns - lead().length);
  const push = () => {
    lines.push(lead() + line);
    line = '';
  };
  for (let word of unitsKept(text).replaceAll(' ± ', '\u00a0±\u00a0').split(/ +/)) {
    if (word === '') continue;
    if (line !== '' && line.length + 1 + word.length > room()) push();
    while (word.length > room()) {
      line = word.slice(0, room());
      word = word.slice(line.length);
      push();
    }
    line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') push();
  return lines.map((broken) => broken.replaceAll('\u00a0', ' '));
}

/** At most so many characters; what was cut ends in dots. */
export function clipped(text: string, columns: number): string {
  return text.length <= columns ? text : `${text.slice(0, Math.max(1, columns - 1))}…`;
}

import { pdfNumber } from './pdfFile.ts';

/** How far along its tangents a quarter circle's control points lie, as a share of the radius: common practice. */
const quarter = 0.5523;
const argumentCounts: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, A: 7, Z: 0 };

/**
 * SVG path data as the operators of a PDF path. Of the arcs only half circles are known, which are all that shapes have.
 * Throws RangeError for anything else.
 */
export function pathOperators(d: string): string {
  const tokens = d.match(/[a-z]|-?[\d.]+/gi) ?? [];
  const operators: string[] = [];
  let [x, y, startX, startY] = [0, 0, 0, 0];
  for (let at = 0; at < tokens.length; ) {
    const command = tokens[at];
    const kind = command.toUpperCase();
    const count = argumentCounts[kind];
    if (count === undefined) throw new RangeError(`Path command ${command} is not drawn.`);
    const values = tokens.slice(at + 1, at + 1 + count).map(Number);
    at += 1 + count;
    const [fromX, fromY] = command === kind ? [0, 0] : [x, y];
    if (kind === 'Z') {
      operators.push('h');
      [x, y] = [startX, startY];
      continue;
    }
    const [oldX, oldY] = [x, y];
    x = kind === 'V' ? x : fromX + (kind === 'A' ? values[5] : values[0]);
    y = kind === 'H' ? y : fromY + (kind === 'A' ? values[6] : values.at(kind === 'V' ? 0 : 1)!);
    if (kind === 'M') [startX, startY] = [x, y];
    if (kind === 'A') operators.push(halfCircle(oldX, oldY, x, y, values));
    else operators.push(`${pdfNumber(x)} ${pdfNumber(y)} ${kind === 'M' ? 'm' : 'l'}`);
  }
  return operators.join('\n');
}

function halfCircle(fromX: number, fromY: number, toX: number, toY: number, values: readonly number[]): string {
  const [radius, otherRadius, , , sweep] = values;
  const [halfX, halfY] = [(toX - fromX) / 2, (toY - fromY) / 2];
  if (radius !== otherRadius || Math.abs(Math.hypot(halfX, halfY) - radius) > 0.002)
    throw new RangeError('Only half circles are drawn.');
  // From the middle of the circle to its farthest point from the line between the ends.
  const [outX, outY] = sweep === 1 ? [halfY, -halfX] : [-halfY, halfX];
  const [topX, topY] = [fromX + halfX + outX, fromY + halfY + outY];
  const curve = (...points: number[]) => `${points.map(pdfNumber).join(' ')} c`;
  const [alongX, alongY] = [halfX * quarter, halfY * quarter];
  const [asideX, asideY] = [outX * quarter, outY * quarter];
  return [
    curve(fromX + asideX, fromY + asideY, topX - alongX, topY - alongY, topX, topY),
    curve(topX + alongX, topY + alongY, toX + asideX, toY + asideY, toX, toY),
  ].join('\n');
}

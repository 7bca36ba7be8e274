/**
 * Area, in pixels, where the tones lie over a level: between the middles of four pixels the border runs straight from
 * side to side, at the place where the tones along the side cross the level.
 */
export function areaOver(tones: Uint8Array, widthPx: number, heightPx: number, level: number): number {
  let area = 0;
  for (let row = 0; row + 1 < heightPx; row++) {
    for (let column = 0; column + 1 < widthPx; column++) {
      const at = row * widthPx + column;
      area += areaOfCell(tones[at], tones[at + 1], tones[at + widthPx + 1], tones[at + widthPx], level);
    }
  }
  return area;
}

const cornerXs = [0, 1, 1, 0];
const cornerYs = [0, 0, 1, 1];

/** The part over the level of a square with these tones at its corners, in turn. */
function areaOfCell(a: number, b: number, c: number, d: number, level: number): number {
  if (a >= level && b >= level && c >= level && d >= level) return 1;
  if (a < level && b < level && c < level && d < level) return 0;
  const tones = [a, b, c, d];
  let twice = 0;
  let first: [number, number] | null = null;
  let last: [number, number] | null = null;
  const add = (x: number, y: number) => {
    if (last !== null) twice += last[0] * y - x * last[1];
    first ??= [x, y];
    last = [x, y];
  };
  for (let k = 0; k < 4; k++) {
    const next = (k + 1) % 4;
    if (tones[k] >= level) add(cornerXs[k], cornerYs[k]);
    if (tones[k] >= level !== tones[next] >= level) {
      const share = (level - tones[k]) / (tones[next] - tones[k]);
      add(cornerXs[k] + share * (cornerXs[next] - cornerXs[k]), cornerYs[k] + share * (cornerYs[next] - cornerYs[k]));
    }
  }
  const [x, y] = first!;
  return Math.abs(twice + last![0] * y - x * last![1]) / 2;
}

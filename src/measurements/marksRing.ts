import { isSeen, type MarkWindow } from './marksWindow.ts';

/** A circle of a mark: the ring itself when it is thin, else the outline of its disc. In pixel widths of the window. */
export interface Ring {
  readonly column: number;
  readonly row: number;
  readonly radiusPx: number;
  /** Root mean square distance of the edge from the circle. */
  readonly scatterPx: number;
  /** Share of the directions looked in that show the circle. */
  readonly seenShare: number;
}

interface Edges {
  readonly angles: number[];
  readonly radii: number[];
}

const fewestSeen = 0.7;
/** Arms cover the circle near the axes. */
const armMarginDeg = 12;

/**
 * The outermost circle about a point of the window that `fewest` of the directions show, or null. `armPx` is the weight
 * of the mark's arms.
 */
export function findRing(
  window: MarkWindow,
  column: number,
  row: number,
  armPx: number,
  fewest = fewestSeen,
  marginDeg = armMarginDeg,
): Ring | null {
  const reach = Math.max(window.width, window.height * window.aspect) / 2 + 2;
  const directions = seenDirections(freeDirections(720, armPx, reach / 3, marginDeg), window, column, row, 0.6 * reach);
  const falling = edgesAbout(window, column, row, directions, 2, reach, 0);
  const radius = outermostRadius(falling, fewest * directions.length, reach);
  return radius === null
    ? null
    : fitRing(window, column, row, armPx, radius, Math.max(3, 0.03 * radius), fewest, marginDeg);
}

/** Fits the circle of about this radius about a point; edges further than `slackPx` from it are left out. */
export function fitRing(
  window: MarkWindow,
  column: number,
  row: number,
  armPx: number,
  radiusPx: number,
  slackPx: number,
  fewest = fewestSeen,
  marginDeg = armMarginDeg,
): Ring | null {
  const count = Math.min(4000, Math.max(720, Math.ceil(12 * radiusPx)));
  const directions = seenDirections(freeDirections(count, armPx, radiusPx, marginDeg), window, column, row, radiusPx);
  let outer = { column, row, radiusPx };
  let slack = slackPx;
  let fitted: Ring | null = null;
  for (let pass = 0; pass < 3; pass++) {
    const edges = edgesAbout(
      window,
      outer.column,
      outer.row,
      directions,
      outer.radiusPx - slack,
      outer.radiusPx + slack,
      0,
    );
    fitted = fitCircle(edges, outer.column, outer.row, window.aspect, directions.length);
    if (fitted === null || fitted.seenShare < fewest) return null;
    outer = fitted;
    slack = Math.max(2.5, slackPx / 2);
  }
  if (fitted === null) return null;
  const inner = innerEdge(window, fitted, directions, fewest);
  if (inner === null) return fitted;
  return {
    column: (fitted.column + inner.column) / 2,
    row: (fitted.row + inner.row) / 2,
    radiusPx: (fitted.radiusPx + inner.radiusPx) / 2,
    scatterPx: Math.max(fitted.scatterPx, inner.scatterPx),
    seenShare: Math.min(fitted.seenShare, inner.seenShare),
  };
}

/** The inside of a thin ring, when there is one. */
function innerEdge(window: MarkWindow, outer: Ring, directions: readonly number[], fewest: number): Ring | null {
  const thickest = Math.max(4, 0.2 * outer.radiusPx);
  const edges = edgesAbout(
    window,
    outer.column,
    outer.row,
    directions,
    outer.radiusPx - thickest,
    outer.radiusPx - 0.5,
    1,
  );
  if (edges.angles.length < fewest * directions.length) return null;
  const sorted = [...edges.radii].sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1];
  const kept: Edges = { angles: [], radii: [] };
  edges.radii.forEach((radius, i) => {
    if (Math.abs(radius - middle) > 2.5) return;
    kept.radii.push(radius);
    kept.angles.push(edges.angles[i]);
  });
  const fitted = fitCircle(kept, outer.column, outer.row, window.aspect, directions.length);
  return fitted !== null && fitted.seenShare >= fewest ? fitted : null;
}

/** Directions clear of the arms, in radians. */
function freeDirections(count: number, armPx: number, radiusPx: number, marginDeg: number): number[] {
  const margin = Math.max(
    (marginDeg * Math.PI) / 180,
    Math.min(Math.PI / 6, Math.asin(Math.min(1, (armPx / 2 + 2) / radiusPx))),
  );
  const directions: number[] = [];
  for (let i = 0; i < count; i++) {
    const angle = ((i + 0.5) * 2 * Math.PI) / count;
    const inQuarter = angle % (Math.PI / 2);
    if (inQuarter >= margin && inQuarter <= Math.PI / 2 - margin) directions.push(angle);
  }
  return directions;
}

/** Those directions in which a circle of this radius lies on the film. */
function seenDirections(
  directions: number[],
  window: MarkWindow,
  column: number,
  row: number,
  radiusPx: number,
): number[] {
  const { seen, width, height } = window;
  if (seen.toColumn - seen.fromColumn === width && seen.toRow - seen.fromRow === height) return directions;
  return directions.filter((angle) =>
    isSeen(window, column + radiusPx * Math.cos(angle), row + (radiusPx * Math.sin(angle)) / window.aspect),
  );
}

/** Where along each direction the pixels turn to `to`: the last such place between two radii. */
function edgesAbout(
  window: MarkWindow,
  column: number,
  row: number,
  directions: readonly number[],
  fromPx: number,
  toPx: number,
  to: 0 | 1,
): Edges {
  const edges: Edges = { angles: [], radii: [] };
  for (const angle of directions) {
    const stepX = Math.cos(angle);
    const stepY = Math.sin(angle) / window.aspect;
    let before = -1;
    // From outside in, so that the first edge met is the last one.
    for (let r = toPx + 0.5; r >= fromPx - 0.5 && r >= 0; r -= 0.5) {
      const here = inkAt(window, column + r * stepX, row + r * stepY);
      if (before === to && here !== to) {
        let low = r;
        let high = r + 0.5;
        for (let i = 0; i < 4; i++) {
          const middle = (low + high) / 2;
          if (inkAt(window, column + middle * stepX, row + middle * stepY) === to) high = middle;
          else low = middle;
        }
        edges.angles.push(angle);
        edges.radii.push((low + high) / 2);
        break;
      }
      before = here;
    }
  }
  return edges;
}

function inkAt(window: MarkWindow, column: number, row: number): number {
  const c = Math.floor(column);
  const r = Math.floor(row);
  return c < 0 || r < 0 || c >= window.width || r >= window.height ? 0 : window.ink[r * window.width + c];
}

/** The radius at which most directions have their outermost edge, or null when they do not agree. */
function outermostRadius(edges: Edges, needed: number, reach: number): number | null {
  const counts = new Int32Array(Math.ceil(reach) + 3);
  for (const radius of edges.radii) counts[Math.floor(radius)]++;
  let best = 0;
  let at = 0;
  for (let r = 4; r < counts.length; r++) {
    const half = Math.max(1, Math.round(0.02 * r));
    let sum = 0;
    for (let k = Math.max(0, r - half); k <= Math.min(counts.length - 1, r + half); k++) sum += counts[k];
    if (sum > best) {
      best = sum;
      at = r + 0.5;
    }
  }
  return best >= needed ? at : null;
}

/**
 * Least squares of r = R + dx cos + dy sin with Huber weights (Huber, Annals of Mathematical Statistics 35, 1964), so
 * that a few edges spoilt by other ink do not pull the circle.
 */
function fitCircle(edges: Edges, column: number, row: number, aspect: number, directionCount: number): Ring | null {
  const n = edges.radii.length;
  if (n < 24) return null;
  let radius = [...edges.radii].sort((a, b) => a - b)[n >> 1];
  let dx = 0;
  let dy = 0;
  let limit = 2;
  for (let pass = 0; pass < 6; pass++) {
    const m = [0, 0, 0, 0, 0, 0];
    const v = [0, 0, 0];
    for (let i = 0; i < n; i++) {
      const c = Math.cos(edges.angles[i]);
      const s = Math.sin(edges.angles[i]);
      const off = Math.abs(edges.radii[i] - radius - dx * c - dy * s);
      const weight = off <= limit ? 1 : limit / off;
      m[0] += weight;
      m[1] += weight * c;
      m[2] += weight * s;
      m[3] += weight * c * c;
      m[4] += weight * c * s;
      m[5] += weight * s * s;
      v[0] += weight * edges.radii[i];
      v[1] += weight * edges.radii[i] * c;
      v[2] += weight * edges.radii[i] * s;
    }
    const solved = solveThree(m, v);
    if (solved === null) return null;
    [radius, dx, dy] = solved;
    limit = 0.7;
  }
  let sum = 0;
  let seen = 0;
  for (let i = 0; i < n; i++) {
    const off = edges.radii[i] - radius - dx * Math.cos(edges.angles[i]) - dy * Math.sin(edges.angles[i]);
    if (Math.abs(off) > 1.5) continue;
    sum += off * off;
    seen++;
  }
  return {
    column: column + dx,
    row: row + dy / aspect,
    radiusPx: radius,
    scatterPx: seen === 0 ? Infinity : Math.sqrt(sum / seen),
    seenShare: seen / directionCount,
  };
}

/** Solves the symmetric system with rows (m0 m1 m2) (m1 m3 m4) (m2 m4 m5). */
function solveThree(m: readonly number[], v: readonly number[]): [number, number, number] | null {
  const c0 = m[3] * m[5] - m[4] * m[4];
  const c1 = m[2] * m[4] - m[1] * m[5];
  const c2 = m[1] * m[4] - m[2] * m[3];
  const det = m[0] * c0 + m[1] * c1 + m[2] * c2;
  if (Math.abs(det) < 1e-9) return null;
  const c11 = m[0] * m[5] - m[2] * m[2];
  const c12 = m[1] * m[2] - m[0] * m[4];
  const c22 = m[0] * m[3] - m[1] * m[1];
  return [
    (c0 * v[0] + c1 * v[1] + c2 * v[2]) / det,
    (c1 * v[0] + c11 * v[1] + c12 * v[2]) / det,
    (c2 * v[0] + c12 * v[1] + c22 * v[2]) / det,
  ];
}

import type { ArtObject } from '../../src/artwork/artObject.ts';
import type { Outline } from '../../src/artwork/outline.ts';
import { closePath, curveTo, lineTo, moveTo, PathStore } from '../../src/geometry/pathStore.ts';

type Drawn = Pick<ArtObject, 'kind' | 'boxMm' | 'strokeWidthMm'> & { readonly outline: Outline };

/** A line of round-numbered corners, `[x0, y0, x1, y1, …]`, drawn with a plain pen. */
export function strokeAlong(points: readonly number[], widthMm: number, more: Partial<Outline['pen']> = {}): Drawn {
  const paths = new PathStore();
  for (let k = 0; k < points.length; k += 2) paths.add(k === 0 ? moveTo : lineTo, points[k], points[k + 1]);
  const path = paths.take();
  const pen = { width: widthMm, cap: 0, join: 0, miterLimit: 10, dash: [], dashPhase: 0, ...more } as const;
  const { xMm, yMm, widthMm: across, heightMm } = paths.boxOf(path);
  return {
    kind: 'stroke',
    boxMm: { xMm: xMm - widthMm / 2, yMm: yMm - widthMm / 2, widthMm: across + widthMm, heightMm: heightMm + widthMm },
    strokeWidthMm: { min: widthMm, max: widthMm },
    outline: {
      paths,
      path,
      evenOdd: false,
      pen: { ...pen, matrix: [1, 0, 0, 1, 0, 0] },
      clips: [],
      clears: 'others',
    },
  };
}

/** Polygons filled by the even-odd rule, each `[x0, y0, x1, y1, …]`. */
export function fillOf(...rings: readonly (readonly number[])[]): Drawn {
  const paths = new PathStore();
  for (const points of rings) {
    for (let k = 0; k < points.length; k += 2) paths.add(k === 0 ? moveTo : lineTo, points[k], points[k + 1]);
    paths.add(closePath);
  }
  return filled(paths);
}

export function boxFill(xMm: number, yMm: number, widthMm: number, heightMm: number): Drawn {
  const [right, bottom] = [xMm + widthMm, yMm + heightMm];
  return fillOf([xMm, yMm, right, yMm, right, bottom, xMm, bottom]);
}

/** A disc as drawing programs write it: four cubics, at most 2.7e-4 of the radius off the circle. */
export function discFill(xMm: number, yMm: number, diameterMm: number): Drawn {
  const paths = new PathStore();
  const r = diameterMm / 2;
  const k = (r * 4 * (Math.SQRT2 - 1)) / 3;
  paths.add(moveTo, xMm + r, yMm);
  paths.add(curveTo, xMm + r, yMm + k, xMm + k, yMm + r, xMm, yMm + r);
  paths.add(curveTo, xMm - k, yMm + r, xMm - r, yMm + k, xMm - r, yMm);
  paths.add(curveTo, xMm - r, yMm - k, xMm - k, yMm - r, xMm, yMm - r);
  paths.add(curveTo, xMm + k, yMm - r, xMm + r, yMm - k, xMm + r, yMm);
  paths.add(closePath);
  return filled(paths);
}

function filled(paths: PathStore): Drawn {
  const path = paths.take();
  return {
    kind: 'fill',
    boxMm: paths.boxOf(path),
    strokeWidthMm: null,
    outline: { paths, path, evenOdd: true, pen: null, clips: [], clears: 'others' },
  };
}

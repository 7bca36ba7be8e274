import type { Shape } from './analyticShapes.ts';

/** A piece of a stroke's middle line: straight, an arc, or with no length a sharp bend, round on its outside. */
export interface StrokePiece {
  readonly lengthPx: number;
  /** Clockwise as seen. */
  readonly turnDeg: number;
}

/** A stroke cut off square at both ends; every section square to its middle line is as long as its width there. */
export interface BentStroke extends Shape {
  readonly lengthPx: number;
  /** Where it bends sharply, and by which angle. */
  readonly bends: readonly { readonly along: number; readonly turn: number }[];
  /** A place of the middle line. */
  at(along: number): { readonly x: number; readonly y: number; readonly widthPx: number };
  /** How far along the middle line its point nearest to a place lies. */
  nearest(x: number, y: number): number;
}

interface LaidPiece extends StrokePiece {
  readonly from: number;
  readonly x: number;
  readonly y: number;
  readonly angle: number;
  readonly turn: number;
}

/** Lays pieces one after the other; the width goes evenly from that of the start to that of the end. */
export function bentStroke(
  startX: number,
  startY: number,
  angleDeg: number,
  pieces: readonly StrokePiece[],
  widthPx: number,
  endWidthPx = widthPx,
): BentStroke {
  const laid: LaidPiece[] = [];
  let [x, y, from] = [startX, startY, 0];
  let angle = (-angleDeg * Math.PI) / 180;
  for (const piece of pieces) {
    const last = { ...piece, from, x, y, angle, turn: (piece.turnDeg * Math.PI) / 180 };
    laid.push(last);
    ({ x, y } = placeOn(last, piece.lengthPx));
    angle += last.turn;
    from += piece.lengthPx;
  }
  const lengthPx = from;
  const widthAt = (along: number) => widthPx + ((endWidthPx - widthPx) * along) / lengthPx;
  const pieceAt = (along: number) => laid.findLast((piece) => piece.from <= along && piece.lengthPx > 0) ?? laid[0];
  const at = (along: number) => {
    const piece = pieceAt(along);
    return { ...placeOn(piece, along - piece.from), widthPx: widthAt(along) };
  };
  const most = Math.max(widthPx, endWidthPx);
  const edge = Array.from({ length: Math.ceil(lengthPx) + 1 }, (_, k) => at(Math.min(k, lengthPx)));
  const xs = edge.map((place) => place.x);
  const ys = edge.map((place) => place.y);
  return {
    lengthPx,
    bends: laid.flatMap((piece) => (piece.lengthPx === 0 ? [{ along: piece.from, turn: Math.abs(piece.turn) }] : [])),
    at,
    nearest: (px, py) => {
      let [best, least] = [0, Infinity];
      for (const piece of laid) {
        const along = Math.min(piece.lengthPx, Math.max(0, footOn(piece, px, py).along));
        const place = placeOn(piece, along);
        const way = Math.hypot(place.x - px, place.y - py);
        if (way < least) [best, least] = [piece.from + along, way];
      }
      return best;
    },
    bounds: [Math.min(...xs) - most, Math.min(...ys) - most, Math.max(...xs) + most, Math.max(...ys) + most],
    holds: (px, py) =>
      laid.some((piece) => {
        const foot = footOn(piece, px, py);
        return foot.within && Math.abs(foot.aside) < widthAt(piece.from + foot.along) / 2;
      }),
  };
}

function placeOn({ x, y, angle, turn, lengthPx }: LaidPiece, along: number): { x: number; y: number } {
  if (turn === 0 || lengthPx === 0) return { x: x + along * Math.cos(angle), y: y + along * Math.sin(angle) };
  const bend = turn / lengthPx;
  const turned = angle + bend * along;
  return {
    x: x + (Math.sin(turned) - Math.sin(angle)) / bend,
    y: y - (Math.cos(turned) - Math.cos(angle)) / bend,
  };
}

/** Where a place lies square to a piece: how far along it and how far beside it. */
function footOn(piece: LaidPiece, px: number, py: number): { along: number; aside: number; within: boolean } {
  const { x, y, angle, turn, lengthPx } = piece;
  const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
  if (turn === 0) {
    const along = (px - x) * ux + (py - y) * uy;
    return { along, aside: (py - y) * ux - (px - x) * uy, within: along >= 0 && along <= lengthPx };
  }
  const side = Math.sign(turn);
  const radius = lengthPx / Math.abs(turn);
  const [cx, cy] = [x - side * radius * uy, y + side * radius * ux];
  const [rx, ry] = [px - cx, py - cy];
  // The angle gone through, from the start of the piece on, measured around its centre.
  const startX = side * uy;
  const startY = -side * ux;
  const gone = side * Math.atan2(startX * ry - startY * rx, startX * rx + startY * ry);
  const middle = Math.abs(turn) / 2;
  const whole = 2 * Math.PI;
  const angleOn = middle + (((gone - middle + 3 * Math.PI) % whole) - Math.PI);
  const along = (angleOn / Math.abs(turn)) * lengthPx;
  return { along, aside: Math.hypot(rx, ry) - radius, within: angleOn >= 0 && angleOn <= Math.abs(turn) };
}

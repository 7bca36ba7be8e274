import type { PlateList } from '../../../shared/plates.ts';
import type { TileStock } from './tileStock.ts';
import type { TilePlace } from './tileWorker.ts';
import { type FilmSize, levelFor, toFilm, toWindow, type Viewport } from './viewport.ts';

export function filmOf(list: PlateList): FilmSize {
  const [first] = list.plates;
  return {
    widthMm: first.widthPx * first.pitchXMm,
    heightMm: first.heightPx * first.pitchYMm,
    pitchMm: Math.min(first.pitchXMm, first.pitchYMm),
  };
}

/** Tiles of a level that the window shows, and a ring of one more about them, nearest the middle first. */
export function placesInView(view: Viewport, list: PlateList, level: number, ring: number): TilePlace[] {
  const [first] = list.plates;
  const stepX = list.tileSidePx * 2 ** level * first.pitchXMm;
  const stepY = list.tileSidePx * 2 ** level * first.pitchYMm;
  const columns = Math.ceil(first.widthPx / 2 ** level / list.tileSidePx);
  const rows = Math.ceil(first.heightPx / 2 ** level / list.tileSidePx);
  const [left, top] = toFilm(view, 0, 0);
  const [right, bottom] = toFilm(view, view.widthPx, view.heightPx);
  const places: (TilePlace & { readonly away: number })[] = [];
  for (
    let row = Math.max(0, Math.floor(top / stepY) - ring);
    row <= Math.min(rows - 1, Math.floor(bottom / stepY) + ring);
    row++
  ) {
    for (
      let column = Math.max(0, Math.floor(left / stepX) - ring);
      column <= Math.min(columns - 1, Math.floor(right / stepX) + ring);
      column++
    ) {
      const away = Math.hypot((column + 0.5) * stepX - view.xMm, (row + 0.5) * stepY - view.yMm);
      places.push({ level, column, row, away });
    }
  }
  return places.sort((a, b) => a.away - b.away);
}

/** Draws what there is: missing tiles by what the coarser levels show of them. Answers the tiles in view. */
export function drawTable(
  context: CanvasRenderingContext2D,
  view: Viewport,
  list: PlateList,
  stock: TileStock,
  surround: string,
): TilePlace[] {
  const film = filmOf(list);
  const [first] = list.plates;
  const level = levelFor(view, film, first.levels);
  context.imageSmoothingEnabled = level > 0;
  context.imageSmoothingQuality = 'high';
  context.fillStyle = surround;
  context.fillRect(0, 0, view.widthPx, view.heightPx);
  const [left, top] = toWindow(view, 0, 0);
  const [right, bottom] = toWindow(view, film.widthMm, film.heightMm);
  context.save();
  context.beginPath();
  context.rect(
    Math.round(left),
    Math.round(top),
    Math.round(right) - Math.round(left),
    Math.round(bottom) - Math.round(top),
  );
  context.clip();
  const inView = placesInView(view, list, level, 0);
  for (const place of inView) drawPlace(context, view, list, stock, place, first.levels);
  context.restore();
  return inView;
}

function drawPlace(
  context: CanvasRenderingContext2D,
  view: Viewport,
  list: PlateList,
  stock: TileStock,
  place: TilePlace,
  levels: number,
): void {
  const [first] = list.plates;
  const side = list.tileSidePx;
  const stepX = side * 2 ** place.level * first.pitchXMm;
  const stepY = side * 2 ** place.level * first.pitchYMm;
  // Edges of neighbours fall on the same whole pixel.
  const [left, top] = toWindow(view, place.column * stepX, place.row * stepY).map(Math.round);
  const [right, bottom] = toWindow(view, (place.column + 1) * stepX, (place.row + 1) * stepY).map(Math.round);
  for (let up = 0; place.level + up < levels; up++) {
    const picture = stock.picture({ level: place.level + up, column: place.column >> up, row: place.row >> up });
    if (picture === null) continue;
    const part = side / 2 ** up;
    const fromX = (place.column - ((place.column >> up) << up)) * part;
    const fromY = (place.row - ((place.row >> up) << up)) * part;
    context.drawImage(picture, fromX, fromY, part, part, left, top, right - left, bottom - top);
    return;
  }
}

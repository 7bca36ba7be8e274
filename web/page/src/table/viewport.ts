/** A part of the film seen through a window of the page. Film lengths in mm, window lengths in device pixels. */
export interface Viewport {
  /** The film's point in the middle of the window. */
  readonly xMm: number;
  readonly yMm: number;
  readonly pxPerMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface FilmSize {
  readonly widthMm: number;
  readonly heightMm: number;
  /** The finest pitch of its plates. */
  readonly pitchMm: number;
}

/** A film pixel is shown at most this large. */
const mostPxPerPixel = 48;
/** A film is shown no smaller than this share of the window. */
const leastShare = 0.25;

export function fitted(film: FilmSize, widthPx: number, heightPx: number, marginPx = 24 * devicePixelRatio): Viewport {
  // Above are the ways of seeing, below the read-out.
  const besidesPx = (widthPx < 900 * devicePixelRatio ? 4.5 : 3) * marginPx;
  const pxPerMm = Math.min(
    Math.max(1, widthPx - 2 * marginPx) / film.widthMm,
    Math.max(1, heightPx - 2 * besidesPx) / film.heightMm,
  );
  return { xMm: film.widthMm / 2, yMm: film.heightMm / 2, pxPerMm, widthPx, heightPx };
}

export function toWindow(view: Viewport, xMm: number, yMm: number): [number, number] {
  return [(xMm - view.xMm) * view.pxPerMm + view.widthPx / 2, (yMm - view.yMm) * view.pxPerMm + view.heightPx / 2];
}

export function toFilm(view: Viewport, xPx: number, yPx: number): [number, number] {
  return [(xPx - view.widthPx / 2) / view.pxPerMm + view.xMm, (yPx - view.heightPx / 2) / view.pxPerMm + view.yMm];
}

/** Larger by a factor, the film's point under a place of the window staying there. */
export function zoomed(view: Viewport, film: FilmSize, factor: number, xPx: number, yPx: number): Viewport {
  const fit = fitted(film, view.widthPx, view.heightPx);
  const pxPerMm = Math.min(mostPxPerPixel / film.pitchMm, Math.max(leastShare * fit.pxPerMm, view.pxPerMm * factor));
  const [xMm, yMm] = toFilm(view, xPx, yPx);
  return within(
    { ...view, pxPerMm, xMm: xMm - (xPx - view.widthPx / 2) / pxPerMm, yMm: yMm - (yPx - view.heightPx / 2) / pxPerMm },
    film,
  );
}

export function moved(view: Viewport, film: FilmSize, dxPx: number, dyPx: number): Viewport {
  return within({ ...view, xMm: view.xMm - dxPx / view.pxPerMm, yMm: view.yMm - dyPx / view.pxPerMm }, film);
}

/** Some of the film always stays in the window. */
function within(view: Viewport, film: FilmSize): Viewport {
  return {
    ...view,
    xMm: Math.min(film.widthMm, Math.max(0, view.xMm)),
    yMm: Math.min(film.heightMm, Math.max(0, view.yMm)),
  };
}

/**
 * From one to one upwards the film's corner lies on a whole pixel of the window, so that what is under the pointer by
 * reckoning is what is seen there.
 */
export function snapped(view: Viewport, film: FilmSize): Viewport {
  if (view.pxPerMm * film.pitchMm < 1 - 1e-9) return view;
  const [left, top] = toWindow(view, 0, 0);
  return {
    ...view,
    xMm: view.xMm - (Math.round(left) - left) / view.pxPerMm,
    yMm: view.yMm - (Math.round(top) - top) / view.pxPerMm,
  };
}

/** So that a box fills a third of the window, and no film pixel is larger than can be of use. */
export function aimedAt(
  view: Viewport,
  film: FilmSize,
  box: { readonly xMm: number; readonly yMm: number; readonly widthMm: number; readonly heightMm: number },
): Viewport {
  const wanted = Math.min(
    view.widthPx / (3 * Math.max(box.widthMm, 0.5)),
    view.heightPx / (3 * Math.max(box.heightMm, 0.5)),
    12 / film.pitchMm,
  );
  const pxPerMm = Math.max(fitted(film, view.widthPx, view.heightPx).pxPerMm, wanted);
  return within({ ...view, pxPerMm, xMm: box.xMm + box.widthMm / 2, yMm: box.yMm + box.heightMm / 2 }, film);
}

/** The level whose pixels are shown at about their own size, never enlarged while a finer one exists. */
export function levelFor(view: Viewport, film: FilmSize, levels: number): number {
  const pixelsPerPx = 1 / (view.pxPerMm * film.pitchMm);
  return Math.min(levels - 1, Math.max(0, Math.floor(Math.log2(Math.max(1, pixelsPerPx)))));
}

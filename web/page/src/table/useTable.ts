import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { PlateList } from '../../../shared/plates.ts';
import { drawTable, filmOf, placesInView } from './drawTable.ts';
import type { InkLook } from './inkLook.ts';
import { TileStock } from './tileStock.ts';
import type { TilePlace } from './tileWorker.ts';
import { fitted, levelFor, snapped, type Viewport } from './viewport.ts';

export interface TableState {
  view: Viewport;
  /** Draws again before the next frame. */
  redraw(): void;
  setView(view: Viewport): void;
  /** What each plate has at a pixel of level 0, 0 to 255; null when it could not be had. */
  probe(xPx: number, yPx: number): Promise<readonly number[] | null>;
}

/** Draws over the film: rulers, marks of findings. Called after each frame of the film. */
export type Overlay = (context: CanvasRenderingContext2D, view: Viewport) => void;

/** A second window onto the same tiles: the loupe. */
export interface SecondWindow {
  readonly context: CanvasRenderingContext2D;
  /** What it shows while the table shows `view`; null: nothing now. */
  viewOf(view: Viewport): Viewport | null;
  drawOver(view: Viewport): void;
}

/**
 * Keeps a canvas showing the plates of a revision. The view lives outside the page's state: panning draws frames and
 * renders nothing. `onView` is told of each view that was drawn.
 */
export function useTable(
  canvas: RefObject<HTMLCanvasElement | null>,
  list: PlateList,
  tilesUrl: string,
  look: InkLook,
  overlay: Overlay,
  second: RefObject<SecondWindow | null>,
  onView: (view: Viewport) => void,
): RefObject<TableState | null> {
  const state = useRef<TableState | null>(null);
  const stock = useRef<TileStock | null>(null);
  const over = useRef(overlay);
  over.current = overlay;
  const told = useRef(onView);
  told.current = onView;

  useLayoutEffect(() => {
    const element = canvas.current!;
    const context = element.getContext('2d', { alpha: false })!;
    const film = filmOf(list);
    let asked = 0;
    let view = fitted(film, 1, 1);
    const draw = () => {
      asked = 0;
      const surround = getComputedStyle(element).getPropertyValue('--surround').trim();
      const inView = drawTable(context, view, list, tiles, surround);
      over.current(context, view);
      const inLoupe = drawSecond(second.current, view, list, tiles, surround);
      const level = levelFor(view, film, list.plates[0].levels);
      const ring = placesInView(view, list, level, 1);
      // The whole film first: it stands in for everything that is not there yet.
      const whole = { level: list.plates[0].levels - 1, column: 0, row: 0 };
      tiles.want(withoutTwins([whole, ...inLoupe, ...inView, ...ring]));
      element.dataset.pictured = String(tiles.hasAny);
      element.dataset.complete = String(tiles.isComplete(inView));
      told.current(view);
    };
    const redraw = () => {
      element.dataset.complete = 'false';
      asked ||= requestAnimationFrame(draw);
    };
    const tiles = new TileStock(list, tilesUrl, redraw);
    stock.current = tiles;
    const resize = () => {
      const ratio = window.devicePixelRatio;
      const widthPx = Math.max(1, Math.round(element.clientWidth * ratio));
      const heightPx = Math.max(1, Math.round(element.clientHeight * ratio));
      const isFirst = view.widthPx === 1;
      element.width = widthPx;
      element.height = heightPx;
      view = isFirst ? fitted(film, widthPx, heightPx) : snapped({ ...view, widthPx, heightPx }, film);
      // At once: a canvas that was given a size is empty, and a frame later that would have been seen.
      draw();
    };
    const watcher = new ResizeObserver(resize);
    watcher.observe(element);
    state.current = {
      get view() {
        return view;
      },
      redraw,
      setView: (next) => {
        view = snapped(next, film);
        redraw();
      },
      probe: (xPx, yPx) => tiles.probe(xPx, yPx),
    };
    return () => {
      watcher.disconnect();
      cancelAnimationFrame(asked);
      tiles.close();
      state.current = null;
    };
  }, [list, tilesUrl, canvas, second]);

  // Before the page goes on: the film is never called complete in a look that its controls no longer show.
  useLayoutEffect(() => {
    stock.current?.setLook(look);
    state.current?.redraw();
  }, [look, list, tilesUrl]);

  return state;
}

function drawSecond(
  second: SecondWindow | null,
  view: Viewport,
  list: PlateList,
  tiles: TileStock,
  surround: string,
): TilePlace[] {
  const shown = second?.viewOf(view) ?? null;
  if (second === null || shown === null) return [];
  const places = drawTable(second.context, shown, list, tiles, surround);
  second.drawOver(shown);
  return places;
}

function withoutTwins(places: readonly TilePlace[]): TilePlace[] {
  return [...new Map(places.map((place) => [`${place.level}/${place.column}/${place.row}`, place])).values()];
}

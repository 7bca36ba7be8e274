import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { PlateList } from '../../../shared/plates.ts';
import { drawTable, filmOf, placesInView } from './drawTable.ts';
import type { InkLook } from './inkLook.ts';
import { TileStock } from './tileStock.ts';
import { fitted, levelFor, type Viewport } from './viewport.ts';

export interface TableState {
  view: Viewport;
  /** Draws again before the next frame. */
  redraw(): void;
  setView(view: Viewport): void;
}

/** Draws over the film: rulers, marks of findings. Called after each frame of the film. */
export type Overlay = (context: CanvasRenderingContext2D, view: Viewport) => void;

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
  onView: (view: Viewport) => void,
): RefObject<TableState | null> {
  const state = useRef<TableState | null>(null);
  const stock = useRef<TileStock | null>(null);
  const over = useRef(overlay);
  over.current = overlay;
  const told = useRef(onView);
  told.current = onView;

  useEffect(() => {
    const element = canvas.current!;
    const context = element.getContext('2d', { alpha: false })!;
    const film = filmOf(list);
    let asked = 0;
    let view = fitted(film, 1, 1);
    const draw = () => {
      asked = 0;
      const surround = getComputedStyle(element).getPropertyValue('--table').trim() || '#e9e7e1';
      const inView = drawTable(context, view, list, tiles, surround);
      over.current(context, view);
      const level = levelFor(view, film, list.plates[0].levels);
      tiles.want([...inView, ...placesInView(view, list, level, 1).filter((place) => !isAmong(place, inView))]);
      element.dataset.complete = String(tiles.isComplete(inView));
      told.current(view);
    };
    const redraw = () => {
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
      view = isFirst ? fitted(film, widthPx, heightPx) : { ...view, widthPx, heightPx };
      redraw();
    };
    const watcher = new ResizeObserver(resize);
    watcher.observe(element);
    state.current = {
      get view() {
        return view;
      },
      redraw,
      setView: (next) => {
        view = next;
        redraw();
      },
    };
    return () => {
      watcher.disconnect();
      cancelAnimationFrame(asked);
      tiles.close();
      state.current = null;
    };
  }, [list, tilesUrl, canvas]);

  useEffect(() => {
    stock.current?.setLook(look);
    state.current?.redraw();
  }, [look, list, tilesUrl]);

  return state;
}

function isAmong(place: { level: number; column: number; row: number }, list: readonly (typeof place)[]): boolean {
  return list.some(({ level, column, row }) => level === place.level && column === place.column && row === place.row);
}

import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { stopFlight } from './flyTo.ts';
import type { TableState } from './useTable.ts';
import { type FilmSize, fitted, moved, type Viewport, zoomed } from './viewport.ts';

const keyStepPx = 80;
const keyZoom = 1.5;

/** What drags and Enter do instead of moving the film; window pixels. */
export interface Drag {
  start(view: Viewport, x: number, y: number): void;
  move(view: Viewport, x: number, y: number): void;
  enter(view: Viewport): void;
  /** The film was moved by keys. */
  moved(view: Viewport): void;
}

/**
 * Drag to move, wheel or two fingers to zoom, arrow keys, plus, minus and 0. `onPoint` is told where the pointer is, in
 * window pixels, or null when it left.
 */
export function useGestures(
  canvas: RefObject<HTMLCanvasElement | null>,
  table: RefObject<TableState | null>,
  film: FilmSize,
  onPoint: (point: readonly [number, number] | null) => void,
  drag: Drag | null,
): void {
  const instead = useRef(drag);
  instead.current = drag;
  useEffect(() => {
    const element = canvas.current!;
    const fingers = new Map<number, [number, number]>();
    const at = (event: PointerEvent | WheelEvent): [number, number] => {
      const ratio = window.devicePixelRatio;
      const box = element.getBoundingClientRect();
      // The middle of the pixel pointed at.
      return [(event.clientX - box.left) * ratio + 0.5, (event.clientY - box.top) * ratio + 0.5];
    };
    const spread = () => {
      const [[ax, ay], [bx, by]] = [...fingers.values()];
      return { x: (ax + bx) / 2, y: (ay + by) / 2, apart: Math.max(1, Math.hypot(ax - bx, ay - by)) };
    };
    const down = (event: PointerEvent) => {
      if (event.button !== 0) return;
      stopFlight();
      element.setPointerCapture(event.pointerId);
      fingers.set(event.pointerId, at(event));
      if (fingers.size === 1 && table.current !== null) instead.current?.start(table.current.view, ...at(event));
    };
    const move = (event: PointerEvent) => {
      const to = at(event);
      onPoint(to);
      const from = fingers.get(event.pointerId);
      const state = table.current;
      if (from === undefined || state === null) return;
      if (fingers.size === 1) {
        fingers.set(event.pointerId, to);
        if (instead.current !== null) instead.current.move(state.view, ...to);
        else state.setView(moved(state.view, film, to[0] - from[0], to[1] - from[1]));
        return;
      }
      if (fingers.size > 2) return;
      const before = spread();
      fingers.set(event.pointerId, to);
      const after = spread();
      const carried = moved(state.view, film, after.x - before.x, after.y - before.y);
      state.setView(zoomed(carried, film, after.apart / before.apart, after.x, after.y));
    };
    const up = (event: PointerEvent) => {
      fingers.delete(event.pointerId);
    };
    const leave = () => {
      onPoint(null);
    };
    const wheel = (event: WheelEvent) => {
      event.preventDefault();
      stopFlight();
      const state = table.current;
      if (state === null) return;
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 33 : 1;
      const [x, y] = at(event);
      state.setView(zoomed(state.view, film, 2 ** (-(event.deltaY * lines) / 300), x, y));
    };
    const key = (event: KeyboardEvent) => {
      const state = table.current;
      if (state === null || event.ctrlKey || event.metaKey || event.altKey) return;
      const { view } = state;
      const step = keyStepPx * window.devicePixelRatio;
      const zoomBy = (factor: number) => zoomed(view, film, factor, view.widthPx / 2, view.heightPx / 2);
      const next = {
        ArrowLeft: () => moved(view, film, step, 0),
        ArrowRight: () => moved(view, film, -step, 0),
        ArrowUp: () => moved(view, film, 0, step),
        ArrowDown: () => moved(view, film, 0, -step),
        '+': () => zoomBy(keyZoom),
        '=': () => zoomBy(keyZoom),
        '-': () => zoomBy(1 / keyZoom),
        '0': () => fitted(film, view.widthPx, view.heightPx),
      }[event.key];
      if (event.key === 'Enter' && instead.current !== null) instead.current.enter(view);
      if (next === undefined) return;
      event.preventDefault();
      stopFlight();
      onPoint(null);
      const there = next();
      state.setView(there);
      instead.current?.moved(there);
    };
    element.addEventListener('pointerdown', down);
    element.addEventListener('pointermove', move);
    element.addEventListener('pointerup', up);
    element.addEventListener('pointercancel', up);
    element.addEventListener('pointerleave', leave);
    element.addEventListener('wheel', wheel, { passive: false });
    element.addEventListener('keydown', key);
    return () => {
      element.removeEventListener('pointerdown', down);
      element.removeEventListener('pointermove', move);
      element.removeEventListener('pointerup', up);
      element.removeEventListener('pointercancel', up);
      element.removeEventListener('pointerleave', leave);
      element.removeEventListener('wheel', wheel);
      element.removeEventListener('keydown', key);
    };
  }, [canvas, table, film, onPoint]);
}

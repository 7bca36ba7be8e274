import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Drag } from '../table/useGestures.ts';
import { toFilm, toWindow, type Viewport } from '../table/viewport.ts';

type PointMm = readonly [number, number];

/** Drags lay the ruler instead of moving the film; Enter sets its ends in the middle of the window. */
export function useRuler(isOn: boolean): {
  readonly ends: readonly [PointMm, PointMm] | null;
  readonly drag: Drag | null;
} {
  const [ends, setEnds] = useState<readonly [PointMm, PointMm] | null>(null);
  useEffect(() => {
    if (!isOn) setEnds(null);
  }, [isOn]);
  const drag = useMemo<Drag | null>(() => {
    if (!isOn) return null;
    let isOpen = false;
    return {
      start: (view, x, y) => {
        const from = toFilm(view, x, y);
        setEnds([from, from]);
      },
      move: (view, x, y) => setEnds((before) => (before === null ? null : [before[0], toFilm(view, x, y)])),
      enter: (view: Viewport) => {
        const middle = toFilm(view, ...toWindow(view, view.xMm, view.yMm));
        isOpen = !isOpen;
        setEnds((before) => (isOpen || before === null ? [middle, middle] : [before[0], middle]));
      },
      moved: (view: Viewport) => {
        if (isOpen) setEnds((before) => (before === null ? null : [before[0], [view.xMm, view.yMm]]));
      },
    };
  }, [isOn]);
  return { ends, drag };
}

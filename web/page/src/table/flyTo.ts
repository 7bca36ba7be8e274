import type { TableState } from './useTable.ts';
import type { Viewport } from './viewport.ts';

const flightMs = 420;
let flight = 0;

/** Carries the view over to another; at once where the system asks for no motion. */
export function flyTo(table: TableState, to: Viewport): void {
  cancelAnimationFrame(flight);
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
    table.setView(to);
    return;
  }
  const from = table.view;
  const start = performance.now();
  const step = (now: number) => {
    const share = Math.min(1, (now - start) / flightMs);
    table.setView(
      share === 1
        ? { ...to, widthPx: table.view.widthPx, heightPx: table.view.heightPx }
        : between(from, to, eased(share)),
    );
    if (share < 1) flight = requestAnimationFrame(step);
  };
  flight = requestAnimationFrame(step);
}

export function stopFlight(): void {
  cancelAnimationFrame(flight);
}

/** Sizes change by equal factors in equal times; the middle moves so that the target does not leave the window. */
export function between(from: Viewport, to: Viewport, share: number): Viewport {
  const pxPerMm = from.pxPerMm * (to.pxPerMm / from.pxPerMm) ** share;
  const ratio = to.pxPerMm / from.pxPerMm;
  const carried = Math.abs(ratio - 1) < 0.01 ? share : (1 - ratio ** -share) / (1 - 1 / ratio);
  return {
    ...to,
    pxPerMm,
    xMm: from.xMm + (to.xMm - from.xMm) * carried,
    yMm: from.yMm + (to.yMm - from.yMm) * carried,
  };
}

function eased(share: number): number {
  return share * share * (3 - 2 * share);
}

import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { drawThreads, strokeTwoTone, writeTwoTone } from '../table/overArt.ts';
import type { MeshOnFilm } from '../table/threads.ts';
import type { SecondWindow, TableState } from '../table/useTable.ts';
import { type FilmSize, toFilm, toWindow, type Viewport } from '../table/viewport.ts';
import { useWords } from '../words/useWords.ts';
import type { WindowPoint } from './Film.tsx';

const sideCss = 260;
/** Ten times as large as it lies on the table: a CSS pixel is a 96th of an inch. */
const cssPxPerMm = (10 * 96) / 25.4;

/** Follows the pointer; by keyboard it lies in the middle. */
export function Loupe(props: {
  readonly second: RefObject<SecondWindow | null>;
  readonly table: RefObject<TableState | null>;
  readonly film: FilmSize;
  readonly point: RefObject<WindowPoint>;
  readonly mesh: MeshOnFilm | null;
}) {
  const { say } = useWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  const mesh = useRef(props.mesh);
  mesh.current = props.mesh;
  useEffect(() => {
    const element = canvas.current!;
    const context = element.getContext('2d', { alpha: false })!;
    props.second.current = {
      context,
      viewOf: (view) => {
        const ratio = devicePixelRatio;
        const side = Math.round(sideCss * ratio);
        if (element.width !== side) element.width = element.height = side;
        const [x, y] = props.point.current ?? [view.widthPx / 2, view.heightPx / 2];
        const [xMm, yMm] = toFilm(view, x, y);
        const [left, top] = [x / ratio, y / ratio];
        // Beside the pointer, on the side where there is room.
        const shiftX = left + sideCss + 40 > view.widthPx / ratio ? -sideCss - 24 : 24;
        const shiftY = top - sideCss - 24 < 0 ? 24 : -sideCss - 24;
        element.style.transform = `translate(${left + shiftX}px, ${top + shiftY}px)`;
        return { xMm, yMm, pxPerMm: cssPxPerMm * ratio, widthPx: side, heightPx: side };
      },
      drawOver: (view) => {
        if (mesh.current !== null) drawThreads(context, view, mesh.current);
        drawScale(context, view);
      },
    };
    props.table.current?.redraw();
    return () => {
      props.second.current = null;
    };
  }, [props.second, props.table, props.point]);
  return <canvas ref={canvas} class="loupe" role="img" aria-label={say('loupe.label')} />;
}

/** A cross with a tick every tenth of a millimetre and a longer one every half. */
function drawScale(context: CanvasRenderingContext2D, view: Viewport): void {
  const [x, y] = toWindow(view, view.xMm, view.yMm);
  const path = new Path2D();
  path.moveTo(0, y);
  path.lineTo(view.widthPx, y);
  path.moveTo(x, 0);
  path.lineTo(x, view.heightPx);
  const most = Math.floor((view.widthPx / 2 / view.pxPerMm) * 10);
  for (let tenth = -most; tenth <= most; tenth++) {
    const arm = (tenth % 10 === 0 ? 9 : tenth % 5 === 0 ? 6 : 3) * devicePixelRatio;
    const away = (tenth / 10) * view.pxPerMm;
    path.moveTo(x + away, y - arm);
    path.lineTo(x + away, y + arm);
    path.moveTo(x - arm, y + away);
    path.lineTo(x + arm, y + away);
  }
  strokeTwoTone(context, path, devicePixelRatio * 0.7);
  writeTwoTone(context, '1 mm', x + view.pxPerMm, y + 20 * devicePixelRatio, 12 * devicePixelRatio);
}

import type { RefObject } from 'preact';
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { PlateList } from '../../../shared/plates.ts';
import { filmOf } from '../table/drawTable.ts';
import { flyTo, stopFlight } from '../table/flyTo.ts';
import type { InkLook } from '../table/inkLook.ts';
import type { RackFilm } from '../table/looks.ts';
import { drawMarks, drawRuler, drawThreads, leastPitchPx, type Marked } from '../table/overArt.ts';
import type { MeshOnFilm } from '../table/threads.ts';
import { useGestures } from '../table/useGestures.ts';
import { type SecondWindow, useTable } from '../table/useTable.ts';
import { aimedAt, fitted, toFilm, type Viewport, zoomed } from '../table/viewport.ts';
import { useWords } from '../words/useWords.ts';
import { hideFirstPicture } from './firstPicture.ts';
import { Loupe } from './Loupe.tsx';
import { Readout } from './Readout.tsx';
import { useRuler } from './useRuler.ts';

export interface FilmControl {
  fly(place: Marked & { readonly focusXMm?: number; readonly focusYMm?: number }): void;
  zoomBy(factor: number): void;
  fit(): void;
  /** One film pixel a pixel of the window. */
  trueSize(): void;
}

export type WindowPoint = readonly [number, number] | null;

/** The film on the table, and all that is drawn over it. */
export function Film(props: {
  readonly list: PlateList;
  readonly tilesUrl: string;
  readonly base: string;
  readonly look: InkLook;
  readonly rack: readonly RackFilm[];
  readonly places: readonly Marked[];
  readonly current: Marked | null;
  readonly mesh: MeshOnFilm | null;
  readonly meshNote: string | null;
  readonly wayNote: string | null;
  readonly hasLoupe: boolean;
  readonly hasRuler: boolean;
  readonly control: RefObject<FilmControl | null>;
}) {
  const { list, places, current, mesh } = props;
  const { say, number } = useWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  const second = useRef<SecondWindow | null>(null);
  const film = useMemo(() => filmOf(list), [list]);
  const point = useRef<WindowPoint>(null);
  const [shown, setShown] = useState<{ view: Viewport | null; point: WindowPoint }>({ view: null, point: null });
  const ruler = useRuler(props.hasRuler);
  const told = useRef(0);
  const tell = useCallback((view: Viewport) => {
    if (canvas.current?.dataset.pictured === 'true') hideFirstPicture();
    // The page's own state follows a few times a second; the film itself does not wait for it.
    told.current ||= window.setTimeout(() => {
      told.current = 0;
      setShown({ view: table.current?.view ?? view, point: point.current });
    }, 80);
  }, []);
  const table = useTable(
    canvas,
    list,
    props.tilesUrl,
    props.look,
    (context, view) => {
      if (mesh !== null) drawThreads(context, view, mesh);
      drawMarks(context, view, places, current);
      if (ruler.ends !== null) {
        const [[x0, y0], [x1, y1]] = ruler.ends;
        const lengthMm = Math.hypot(x1 - x0, y1 - y0);
        drawRuler(context, view, ruler.ends, `${number(lengthMm, 2)} mm · ${number(lengthMm / 25.4, 3)} in`);
      }
    },
    second,
    tell,
  );
  const onPoint = useCallback(
    (next: WindowPoint) => {
      point.current = next;
      if (second.current !== null) table.current?.redraw();
      if (table.current !== null) tell(table.current.view);
    },
    [table, tell],
  );
  useGestures(canvas, table, film, onPoint, ruler.drag);
  useEffect(() => table.current?.redraw(), [places, current, mesh, props.hasLoupe, ruler.ends]);

  props.control.current = {
    fly: (place) => {
      if (table.current === null) return;
      const aimed = aimedAt(table.current.view, film, place);
      const { focusXMm: xMm = aimed.xMm, focusYMm: yMm = aimed.yMm } = place;
      flyTo(table.current, { ...aimed, xMm, yMm });
    },
    zoomBy: (factor) => {
      const view = table.current!.view;
      flyTo(table.current!, zoomed(view, film, factor, view.widthPx / 2, view.heightPx / 2));
    },
    fit: () => flyTo(table.current!, fitted(film, table.current!.view.widthPx, table.current!.view.heightPx)),
    trueSize: () => {
      const view = table.current!.view;
      flyTo(table.current!, zoomed(view, film, 1 / (film.pitchMm * view.pxPerMm), view.widthPx / 2, view.heightPx / 2));
    },
  };
  useEffect(() => stopFlight, []);

  const view = shown.view;
  const at = view === null ? null : toFilm(view, ...(shown.point ?? [view.widthPx / 2, view.heightPx / 2]));
  const isTooFar = mesh !== null && view !== null && mesh.pitchMm * view.pxPerMm < leastPitchPx;
  const note = props.wayNote ?? (mesh === null || isTooFar ? props.meshNote : null);
  return (
    <>
      {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: arrow keys have to reach the film. */}
      <canvas
        ref={canvas}
        class="film"
        tabIndex={0}
        role="application"
        aria-label={say('film.label', { width: number(film.widthMm, 1), height: number(film.heightMm, 1) })}
        aria-describedby="film-help"
      />
      <p id="film-help" class="unseen">
        {say('film.help')}
      </p>
      {note !== null && (
        <p class="note" role="status">
          {note}
        </p>
      )}
      {props.hasLoupe && <Loupe second={second} table={table} film={film} point={point} mesh={mesh} />}
      {view !== null && at !== null && (
        <Readout list={list} base={props.base} rack={props.rack} table={table} view={view} at={at} film={film} />
      )}
    </>
  );
}

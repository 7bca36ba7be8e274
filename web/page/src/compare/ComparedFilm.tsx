import { useCallback, useEffect, useMemo, useRef } from 'preact/hooks';
import type { PlateList } from '../../../shared/plates.ts';
import { filmOf } from '../table/drawTable.ts';
import type { InkLook } from '../table/inkLook.ts';
import { drawMarks, type Marked } from '../table/overArt.ts';
import { useGestures } from '../table/useGestures.ts';
import { useTable } from '../table/useTable.ts';
import type { Viewport } from '../table/viewport.ts';
import { useWords } from '../words/useWords.ts';
import type { LinkedTables } from './linkedTables.ts';

const nothing = () => undefined;

/** One of the films that are looked at together. */
export function ComparedFilm(props: {
  readonly name: string;
  readonly caption: string;
  readonly list: PlateList;
  readonly tilesUrl: string;
  readonly look: InkLook;
  readonly places: readonly Marked[];
  readonly current: Marked | null;
  readonly isHidden: boolean;
  readonly linked: LinkedTables;
}) {
  const { name, list, linked, places, current } = props;
  const { say, number } = useWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  const film = useMemo(() => filmOf(list), [list]);
  const noLoupe = useRef(null);
  const tell = useCallback((view: Viewport) => linked.drawn(name, view), [linked, name]);
  const table = useTable(
    canvas,
    list,
    props.tilesUrl,
    props.look,
    (context, view) => drawMarks(context, view, places, current),
    noLoupe,
    tell,
  );
  useGestures(canvas, table, film, nothing, null);
  useEffect(() => {
    linked.add(name, table);
    return () => linked.remove(name);
  }, [linked, name, table]);
  useEffect(() => table.current?.redraw(), [places, current, table]);
  const lead = () => linked.lead(name);
  return (
    <figure class="compared" data-hidden={props.isHidden} aria-hidden={props.isHidden}>
      <figcaption>{props.caption}</figcaption>
      {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: arrow keys have to reach the film. */}
      <canvas
        ref={canvas}
        class="film"
        tabIndex={props.isHidden ? -1 : 0}
        role="application"
        aria-label={`${props.caption}. ${say('film.label', { width: number(film.widthMm, 1), height: number(film.heightMm, 1) })}`}
        onPointerDown={lead}
        onWheel={lead}
        onFocus={lead}
      />
    </figure>
  );
}

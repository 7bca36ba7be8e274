import type { RefObject } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { shownText } from '../../../../src/report/words.ts';
import type { PlateList } from '../../../shared/plates.ts';
import type { WidthsHere } from '../../../shared/widths.ts';
import { ask } from '../server/ask.ts';
import type { RackFilm } from '../table/looks.ts';
import type { TableState } from '../table/useTable.ts';
import type { FilmSize, Viewport } from '../table/viewport.ts';
import { useWords } from '../words/useWords.ts';

/** The pointer has to rest this long before a width is asked for. */
const restMs = 250;

/** Where the pointer is, which inks lie there, how broad it is there. */
export function Readout(props: {
  readonly list: PlateList;
  readonly base: string;
  readonly rack: readonly RackFilm[];
  readonly table: RefObject<TableState | null>;
  readonly view: Viewport;
  readonly at: readonly [number, number];
  readonly film: FilmSize;
}) {
  const { list, at, film, rack } = props;
  const { say, number } = useWords();
  const [covers, setCovers] = useState<readonly number[] | null>(null);
  const [widths, setWidths] = useState<WidthsHere | null>(null);
  const [first] = list.plates;
  const xPx = Math.floor(at[0] / first.pitchXMm);
  const yPx = Math.floor(at[1] / first.pitchYMm);
  const isOnFilm = at[0] >= 0 && at[1] >= 0 && xPx < first.widthPx && yPx < first.heightPx;
  const seen = rack.filter(({ isOn }) => isOn).map(({ plate }) => plate);
  const top = covers === null ? undefined : [...seen].reverse().find((plate) => covers[plate] >= 128);

  useEffect(() => {
    if (!isOnFilm) {
      setCovers(null);
      return;
    }
    let isLate = false;
    void props.table.current?.probe(xPx, yPx).then((next) => {
      if (!isLate) setCovers(next);
    });
    return () => {
      isLate = true;
    };
  }, [xPx, yPx, isOnFilm, list]);

  useEffect(() => {
    setWidths(null);
    const plate = top ?? seen.at(-1);
    if (plate === undefined || !isOnFilm) return;
    const stopper = new AbortController();
    const timer = setTimeout(() => {
      const where = `plate=${encodeURIComponent(list.plates[plate].plateId)}&xMm=${at[0].toFixed(3)}&yMm=${at[1].toFixed(3)}`;
      ask<WidthsHere>(`${props.base}/widths?${where}`, stopper.signal).then(setWidths, () => setWidths(null));
    }, restMs);
    return () => {
      clearTimeout(timer);
      stopper.abort();
    };
  }, [xPx, yPx, top, isOnFilm]);

  const inks =
    covers === null ? [] : seen.filter((plate) => covers[plate] >= 128).map((plate) => list.plates[plate].inkName);
  const here = widths === null ? null : widths[widths.at];
  const scale = props.view.pxPerMm * film.pitchMm;
  return (
    <dl class="readout">
      <div>
        <dt>{say('readout.place')}</dt>
        <dd>
          {number(at[0], 2)}, {number(at[1], 2)} mm
          <span class="quiet">
            {' '}
            {number(at[0] / 25.4, 3)}, {number(at[1] / 25.4, 3)} in
          </span>
        </dd>
      </div>
      <div>
        <dt>{say('readout.inks')}</dt>
        <dd>
          {!isOnFilm
            ? say('readout.offFilm')
            : covers === null
              ? '–'
              : inks.length === 0
                ? say('readout.bare')
                : shownText(inks.join(' + '))}
        </dd>
      </div>
      <div>
        <dt>{say('readout.width')}</dt>
        <dd>
          {widths === null
            ? '–'
            : here === null
              ? say('readout.wider', { mm: number(widths.searchedToMm, 2) })
              : `${say(`readout.${widths.at}`)} ${number(here.widthMm, 2)} ± ${number(here.plusMinusMm, 2)} mm`}
        </dd>
      </div>
      <div>
        <dt>{say('readout.scale')}</dt>
        <dd>
          {scale > 0.999 ? `${number(scale, scale < 10 ? 1 : 0)} : 1` : `1 : ${number(1 / scale, 1)}`}
          {scale > 0.999 && isOnFilm && <span class="quiet"> {say('readout.pixel', { column: xPx, row: yPx })}</span>}
        </dd>
      </div>
    </dl>
  );
}

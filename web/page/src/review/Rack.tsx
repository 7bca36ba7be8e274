import { useRef, useState } from 'preact/hooks';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { shownText } from '../../../../src/report/words.ts';
import type { PlateList } from '../../../shared/plates.ts';
import type { RackFilm } from '../table/looks.ts';
import { useWords } from '../words/useWords.ts';
import { carried } from './firstRack.ts';

/** Held this long, a film is seen alone until it is let go. */
const holdMs = 350;

/** The films as slips along the lower edge, in the order they are printed. */
export function Rack(props: {
  readonly list: PlateList;
  readonly report: ReportJson;
  readonly base: string;
  readonly rack: readonly RackFilm[];
  readonly alone: number | null;
  readonly onRack: (rack: readonly RackFilm[]) => void;
  readonly onAlone: (plate: number | null) => void;
}) {
  const { say, number } = useWords();
  const [openPlate, setOpenPlate] = useState<number | null>(null);
  const [spoken, setSpoken] = useState('');
  const rackElement = useRef<HTMLOListElement>(null);
  const change = (plate: number, part: Partial<RackFilm>) =>
    props.onRack(props.rack.map((film) => (film.plate === plate ? { ...film, ...part } : film)));
  const carry = (from: number, to: number) => {
    if (to < 0 || to >= props.rack.length || from === to) return;
    props.onRack(carried(props.rack, from, to));
    const { inkName } = props.list.plates[props.rack[from].plate];
    setSpoken(say('rack.moved', { ink: shownText(inkName), place: to + 1, total: props.rack.length }));
  };
  return (
    <section class="rack" aria-label={say('rack')}>
      <ol ref={rackElement}>
        {props.rack.map((film, index) => {
          const plate = props.list.plates[film.plate];
          const facts = props.report.plates.find(({ id }) => id === plate.plateId);
          return (
            <Slip
              key={plate.plateId}
              film={film}
              index={index}
              name={shownText(plate.inkName)}
              hex={plate.displayHex}
              picture={`${props.base}/files/plate-${encodeURIComponent(plate.plateId)}.png`}
              coverage={facts === undefined ? '' : `${number(facts.coveragePercent, 1)} %`}
              isAlone={props.alone === film.plate}
              isOpen={openPlate === film.plate}
              isLast={index === props.rack.length - 1}
              onOpen={(isOpen) => setOpenPlate(isOpen ? film.plate : null)}
              onChange={(part) => change(film.plate, part)}
              onAlone={(isAlone) => props.onAlone(isAlone ? film.plate : null)}
              onCarry={(to) => carry(index, to)}
              placeAt={(clientX) => placeAt(rackElement.current!, clientX)}
            />
          );
        })}
      </ol>
      <p class="unseen" role="status">
        {spoken}
      </p>
    </section>
  );
}

interface SlipProps {
  readonly film: RackFilm;
  readonly index: number;
  readonly name: string;
  readonly hex: string;
  readonly picture: string;
  readonly coverage: string;
  readonly isAlone: boolean;
  readonly isOpen: boolean;
  readonly isLast: boolean;
  onOpen(isOpen: boolean): void;
  onChange(part: Partial<RackFilm>): void;
  onAlone(isAlone: boolean): void;
  onCarry(to: number): void;
  placeAt(clientX: number): number;
}

/** One film: press to lift it off or lay it back, hold to see it alone, slide to another place. */
function Slip(props: SlipProps) {
  const { film, name, index } = props;
  const { say } = useWords();
  const hold = useRef({ timer: 0, fromX: 0, isHeld: false, isSliding: false });
  const down = (event: PointerEvent) => {
    if (event.button !== 0) return;
    const state = hold.current;
    state.fromX = event.clientX;
    state.isHeld = state.isSliding = false;
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    state.timer = window.setTimeout(() => {
      state.isHeld = true;
      props.onAlone(true);
    }, holdMs);
  };
  const move = (event: PointerEvent) => {
    const state = hold.current;
    if (state.timer === 0 || state.isHeld || Math.abs(event.clientX - state.fromX) < 24) return;
    clearTimeout(state.timer);
    state.isSliding = true;
    const to = props.placeAt(event.clientX);
    if (to !== index) {
      state.fromX = event.clientX;
      props.onCarry(to);
    }
  };
  const up = () => {
    const state = hold.current;
    clearTimeout(state.timer);
    state.timer = 0;
    if (state.isHeld) props.onAlone(false);
  };
  const press = () => {
    const state = hold.current;
    const wasOther = state.isHeld || state.isSliding;
    state.isHeld = state.isSliding = false;
    if (!wasOther) props.onChange({ isOn: !film.isOn });
  };
  const key = (event: KeyboardEvent) => {
    if (!event.altKey || (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight')) return;
    event.preventDefault();
    props.onCarry(index + (event.key === 'ArrowLeft' ? -1 : 1));
  };
  return (
    <li class={film.isOn ? 'slip' : 'slip off'}>
      <button
        type="button"
        class="slip-film"
        aria-pressed={film.isOn}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onClick={press}
        onKeyDown={key}
      >
        <img src={props.picture} alt="" draggable={false} />
        <span class="slip-words">
          <svg class="swatch" viewBox="0 0 12 12" aria-hidden="true">
            <rect width="12" height="12" fill={props.hex} />
          </svg>
          <span class="slip-name" title={name}>
            <span class="unseen">{index + 1}. </span>
            {name}
          </span>
          <span class="quiet">{film.isOn ? props.coverage : say('rack.off')}</span>
        </span>
      </button>
      <button
        type="button"
        class="slip-more"
        aria-expanded={props.isOpen}
        aria-label={say('rack.more', { ink: name })}
        onClick={() => props.onOpen(!props.isOpen)}
      >
        ⋯
      </button>
      {props.isOpen && (
        <div class="slip-panel">
          <label>
            {say('rack.opacity')}
            <input
              type="range"
              min="10"
              max="100"
              step="5"
              value={Math.round(film.opacity * 100)}
              onInput={(event) => props.onChange({ opacity: Number(event.currentTarget.value) / 100 })}
            />
          </label>
          <div class="row">
            <button
              type="button"
              class="button"
              aria-pressed={props.isAlone}
              onClick={() => props.onAlone(!props.isAlone)}
            >
              {say('rack.alone')}
            </button>
            <button type="button" class="button" disabled={index === 0} onClick={() => props.onCarry(index - 1)}>
              {say('rack.earlier')}
            </button>
            <button type="button" class="button" disabled={props.isLast} onClick={() => props.onCarry(index + 1)}>
              {say('rack.later')}
            </button>
          </div>
        </div>
      )}
    </li>
  );
}

/** Which place of the rack lies under a point of the window. */
function placeAt(rack: HTMLOListElement, clientX: number): number {
  const slips = [...rack.children].map((slip) => slip.getBoundingClientRect());
  const found = slips.findIndex(({ right }) => clientX < right);
  return found < 0 ? slips.length - 1 : found;
}

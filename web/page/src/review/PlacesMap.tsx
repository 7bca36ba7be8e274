import { useEffect, useRef } from 'preact/hooks';
import type { Place } from '../../../../src/findings/finding.ts';

const widthCss = 340;

/** The film with all places of a finding; a press goes to the nearest. The list beside it says the same in words. */
export function PlacesMap(props: {
  readonly film: { readonly widthMm: number; readonly heightMm: number };
  readonly places: readonly Place[];
  readonly at: number;
  readonly label: string;
  onPlace(place: number): void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { film, places, at } = props;
  const scale = Math.min(widthCss / film.widthMm, 220 / film.heightMm);
  const width = Math.round(film.widthMm * scale);
  const height = Math.round(film.heightMm * scale);
  const middleOf = (place: Place) => [
    (place.focusXMm ?? place.xMm + place.widthMm / 2) * scale,
    (place.focusYMm ?? place.yMm + place.heightMm / 2) * scale,
  ];
  useEffect(() => {
    const element = canvas.current!;
    const ratio = devicePixelRatio;
    element.width = width * ratio;
    element.height = height * ratio;
    element.style.width = `${width}px`;
    const context = element.getContext('2d')!;
    const style = getComputedStyle(element);
    context.scale(ratio, ratio);
    context.fillStyle = style.getPropertyValue('--text');
    for (const place of places) {
      const [x, y] = middleOf(place);
      context.fillRect(x - 1, y - 1, 2, 2);
    }
    if (at >= places.length) return;
    const [x, y] = middleOf(places[at]);
    context.strokeStyle = style.getPropertyValue('--text');
    context.lineWidth = 1.5;
    context.beginPath();
    context.arc(x, y, 6, 0, 2 * Math.PI);
    context.moveTo(x - 10, y);
    context.lineTo(x + 10, y);
    context.moveTo(x, y - 10);
    context.lineTo(x, y + 10);
    context.stroke();
  }, [places, at, width, height]);
  const press = (event: MouseEvent) => {
    const box = canvas.current!.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    let nearest = 0;
    let least = Number.POSITIVE_INFINITY;
    places.forEach((place, index) => {
      const [px, py] = middleOf(place);
      const away = Math.hypot(px - x, py - y);
      if (away < least) [nearest, least] = [index, away];
    });
    props.onPlace(nearest);
  };
  return <canvas ref={canvas} class="places-map" role="img" aria-label={props.label} onClick={press} />;
}

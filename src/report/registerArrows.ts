import { fixed, thinSpace } from './format.ts';
import type { RegisterPlate } from './registerFacts.ts';
import type { ReportFilm, ReportJson } from './reportJson.ts';
import { type Drawing, line, rectangle, round, type Shape } from './shapes.ts';

const width = 286;
const tallest = 260;
const pad = 20;
/** The longest arrow is drawn about this long. */
const longest = 34;
/** At 200 times the film's scale a tenth of a millimetre is as long as the arrows should be; more would show noise. */
const steps = [1, 2, 5, 10, 20, 50, 100, 200];
/** Arrows shorter than this are dots. */
const shortest = 2;

/** The film with an arrow at each mark: how far it lies from where the fit puts it, enlarged by a round factor. */
export function registerArrows(report: ReportJson, plate: RegisterPlate): Drawing | null {
  const film = filmOf(report);
  if (film === null || plate.residuals.length === 0) return null;
  const unit = Math.min((width - 2 * pad) / film.widthMm, (tallest - 2 * pad) / film.heightMm);
  const [filmWidth, filmHeight] = [film.widthMm * unit, film.heightMm * unit];
  const left = (width - filmWidth) / 2;
  const mostMm = Math.max(...plate.residuals.map(({ dxMm, dyMm }) => Math.hypot(dxMm, dyMm)));
  const times = timesFor(mostMm * unit);
  const shapes: Shape[] = [
    { kind: 'path', d: rectangle(left, pad, filmWidth, filmHeight), fill: 'none', stroke: 'faint', strokeWidth: 1 },
  ];
  for (const { xMm, yMm, dxMm, dyMm } of plate.residuals) {
    const x = left + xMm * unit;
    const y = pad + yMm * unit;
    const [dx, dy] = [dxMm * unit * times, dyMm * unit * times];
    shapes.push({
      kind: 'path',
      d: line(x - 4, y, x + 4, y) + line(x, y - 4, x, y + 4),
      fill: 'none',
      stroke: 'quiet',
      strokeWidth: 0.8,
    });
    shapes.push(...arrow(x, y, dx, dy));
    const text = fixed(Math.hypot(dxMm, dyMm), 2);
    const isRight = x > width / 2;
    shapes.push({
      kind: 'text',
      x: isRight ? x - 7 : x + 7,
      y: y > pad + filmHeight / 2 ? y - 7 : y + 15,
      text,
      size: 11,
      anchor: isRight ? 'end' : 'start',
      strong: false,
      tone: 'text',
    });
  }
  const words = `Arrows ${times}${thinSpace}× the film’s scale; figures in mm`;
  const height = pad + filmHeight + 26;
  shapes.push({
    kind: 'text',
    x: width / 2,
    y: height - 4,
    text: words,
    size: 11,
    anchor: 'middle',
    strong: false,
    tone: 'quiet',
  });
  return {
    width,
    height,
    shapes,
    label: `What the fit leaves of each mark, at most ${fixed(mostMm, 2)} mm. ${words}.`,
  };
}

function filmOf({ registration, plates, films }: ReportJson): ReportFilm | null {
  const plate = plates.find(({ id }) => id === registration?.referencePlateId);
  return films.find(({ id }) => id === plate?.filmId) ?? null;
}

function timesFor(length: number): number {
  return steps.filter((step) => step * length <= longest).at(-1) ?? 1;
}

function arrow(x: number, y: number, dx: number, dy: number): Shape[] {
  const length = Math.hypot(dx, dy);
  if (length < shortest) return [];
  const [ux, uy] = [dx / length, dy / length];
  const [tipX, tipY] = [x + dx, y + dy];
  const head = Math.min(7, 0.6 * length);
  const at = (along: number, aside: number) =>
    `${round(tipX - ux * along - uy * aside)} ${round(tipY - uy * along + ux * aside)}`;
  return [
    {
      kind: 'path',
      d: line(x, y, tipX - 0.7 * ux * head, tipY - 0.7 * uy * head),
      fill: 'none',
      stroke: 'text',
      strokeWidth: 1.6,
    },
    {
      kind: 'path',
      d: `M${round(tipX)} ${round(tipY)}L${at(head, 0.42 * head)}L${at(head, -0.42 * head)}z`,
      fill: 'text',
      stroke: 'none',
      strokeWidth: 0,
    },
  ];
}

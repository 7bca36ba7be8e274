import { type BoxMm, unionOfBoxes } from '../geometry/box.ts';
import type { ReportFilm } from '../report/reportJson.ts';
import type { ArtChange } from '../revisions/artChange.ts';
import type { NotePicture } from './notePicture.ts';
import { lengthIn, type NoteUnits } from './noteQuantities.ts';
import type { NoteWords } from './words/wordsIn.ts';

const panelPx = { width: 300, height: 220 };
const betweenPx = 8;
const narrowestMm = 16;
/** Room around what changed. */
const roomShare = 1.5;

/**
 * The same part of the art before and now, side by side, each with a frame around what changed. Null where the change has
 * no place, or there is no picture of the revision before.
 */
export async function changePicture(
  words: NoteWords,
  units: NoteUnits,
  { box, wasBox, kind }: ArtChange,
  film: Pick<ReportFilm, 'widthMm' | 'heightMm'>,
  { nowPng, beforePng }: { readonly nowPng: Uint8Array; readonly beforePng: Uint8Array | null },
): Promise<Omit<NotePicture, 'number' | 'fileName'> | null> {
  if (box === null || beforePng === null) return null;
  const around = unionOfBoxes(box, wasBox ?? box);
  const part = partShown(around, film);
  const [before, now] = [
    await panel(beforePng, film, part, kind === 'added' ? [] : [{ box: wasBox ?? box, isDashed: false }]),
    await panel(nowPng, film, part, [
      ...(wasBox === undefined ? [] : [{ box: wasBox, isDashed: true }]),
      { box, isDashed: kind === 'removed' },
    ]),
  ];
  const { default: sharp } = await import('sharp');
  const widthPx = 2 * panelPx.width + betweenPx;
  const png = await sharp({ create: { width: widthPx, height: panelPx.height, channels: 3, background: '#ffffff' } })
    .composite([
      { input: before, left: 0, top: 0 },
      { input: now, left: panelPx.width + betweenPx, top: 0 },
    ])
    .png({ palette: true })
    .toBuffer();
  const alt = words.frame('pictureBoth', {
    width: lengthIn(words, units, part.widthMm),
    left: lengthIn(words, units, box.xMm + box.widthMm / 2),
    top: lengthIn(words, units, box.yMm + box.heightMm / 2),
  });
  return { alt, png, widthPx, heightPx: panelPx.height };
}

/** A part of the film in the shape of a panel, around a box and moved in from the edges. */
function partShown(around: BoxMm, film: Pick<ReportFilm, 'widthMm' | 'heightMm'>): BoxMm {
  const shape = panelPx.width / panelPx.height;
  const wanted = Math.max(narrowestMm, roomShare * around.widthMm, roomShare * around.heightMm * shape);
  const widthMm = Math.min(wanted, film.widthMm, film.heightMm * shape);
  const heightMm = widthMm / shape;
  const within = (middle: number, size: number, whole: number) =>
    Math.max(0, Math.min(whole - size, middle - size / 2));
  return {
    xMm: within(around.xMm + around.widthMm / 2, widthMm, film.widthMm),
    yMm: within(around.yMm + around.heightMm / 2, heightMm, film.heightMm),
    widthMm,
    heightMm,
  };
}

interface Frame {
  readonly box: BoxMm;
  readonly isDashed: boolean;
}

async function panel(
  compositePng: Uint8Array,
  film: Pick<ReportFilm, 'widthMm'>,
  part: BoxMm,
  frames: readonly Frame[],
): Promise<Buffer> {
  const { default: sharp } = await import('sharp');
  const { width, height } = await sharp(compositePng).metadata();
  const pxPerMm = width / film.widthMm;
  const size = (mm: number, most: number) => Math.max(1, Math.min(most, Math.round(mm * pxPerMm)));
  const [partWidth, partHeight] = [size(part.widthMm, width), size(part.heightMm, height)];
  const left = Math.min(width - partWidth, Math.round(part.xMm * pxPerMm));
  const top = Math.min(height - partHeight, Math.round(part.yMm * pxPerMm));
  const cut = await sharp(compositePng)
    .extract({ left, top, width: partWidth, height: partHeight })
    .resize(panelPx.width, panelPx.height, { kernel: 'nearest', fit: 'fill' })
    .flatten({ background: '#ffffff' })
    .toBuffer();
  const scale = panelPx.width / part.widthMm;
  const drawn = frames.map(({ box, isDashed }) => frameSvg(box, part, scale, isDashed)).join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${panelPx.width}" height="${panelPx.height}">${drawn}</svg>`;
  return sharp(cut)
    .composite([{ input: Buffer.from(svg) }])
    .png()
    .toBuffer();
}

/** A dark frame with a light one around it, which is seen on any ink; dashed where something was. */
function frameSvg(box: BoxMm, part: BoxMm, scale: number, isDashed: boolean): string {
  const frame = (marginPx: number, colour: string) => {
    const [x, y] = [(box.xMm - part.xMm) * scale - marginPx, (box.yMm - part.yMm) * scale - marginPx];
    const [width, height] = [box.widthMm * scale + 2 * marginPx, box.heightMm * scale + 2 * marginPx];
    const dash = isDashed ? ' stroke-dasharray="5 4"' : '';
    return `<rect x="${x.toFixed(1)}" y="${y.toFixed(1)}" width="${width.toFixed(1)}" height="${height.toFixed(1)}" rx="3" fill="none" stroke="${colour}" stroke-width="2"${dash}/>`;
  };
  return frame(6, '#ffffff') + frame(4, '#14161a');
}

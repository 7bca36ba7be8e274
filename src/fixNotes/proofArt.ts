import { safeHex } from '../report/composite.ts';
import { figure, paragraph, stack } from '../report/pdf/blocks.ts';
import { type Block, contentWidth, gap } from '../report/pdf/flow.ts';
import { small } from '../report/pdf/styles.ts';
import type { Typesetter } from '../report/pdf/typeset.ts';
import { placeInWords } from './artPlace.ts';
import { lengthIn } from './noteQuantities.ts';
import { drawSeams, drawSpans, type PlaceOnPage } from './placeDrawing.ts';
import { type Extent, frameOf } from './placeFrame.ts';
import type { ProofFacts, ProofWish } from './proofFacts.ts';
import { wordsIn } from './words/wordsIn.ts';

const pointsPerMm = 72 / 25.4;
/** No picture is set so large that it has fewer pixels an inch. */
const leastPpi = 200;
/** Room for names of seams and for dimensions, in points. */
const besideField = { left: 64, right: 78, above: 14, below: 36 };
const fieldMargin = 16;

/**
 * The art on the colour of the garment: where the ticket gives a place, drawn to measure with its dimensions from what it
 * is measured from; else alone on a field. As large as there is room and as the picture has pixels for.
 */
export function proofArt(
  type: Typesetter,
  proof: ProofFacts,
  wish: ProofWish,
  compositePng: Uint8Array,
  room: number,
): Block {
  const words = wordsIn(wish.language);
  const sharpest = ((widthOfPng(compositePng) / leastPpi) * 72) / proof.sizeMm.widthMm;
  const caption = (scale: number): Block[] => {
    const percent = `${words.number((scale / pointsPerMm) * 100, 0)}\u00a0%`;
    return [gap(4), paragraph(type, [{ text: words.proof('scale', { percent }), tone: 'quiet' }], small)];
  };
  const most = Math.min(sharpest, pointsPerMm);
  const shown =
    proof.place === null
      ? aloneOnField(type, proof, compositePng, room - small.leading - 6, most)
      : onGarment(type, proof, wish, compositePng, room - small.leading - 6, most);
  return stack([shown.block, ...caption(shown.scale)]);
}

/** Pixels across (PNG, 11.2.2: the width opens the first chunk). */
function widthOfPng(png: Uint8Array): number {
  return new DataView(png.buffer, png.byteOffset).getUint32(16);
}

interface Shown {
  readonly block: Block;
  /** Points to a mm. */
  readonly scale: number;
}

function aloneOnField(type: Typesetter, proof: ProofFacts, png: Uint8Array, room: number, most: number): Shown {
  const { shownMm } = proof;
  const scale = Math.min(
    (contentWidth - 2 * fieldMargin) / shownMm.widthMm,
    (room - 2 * fieldMargin) / shownMm.heightMm,
    most,
  );
  const field = { width: contentWidth, height: shownMm.heightMm * scale + 2 * fieldMargin };
  const block = figure(type, field, proof.title, (x, y) => {
    type.doc.rect(x, y, field.width, field.height).fill(safeHex(proof.garmentHex));
    const left = x + (field.width - shownMm.widthMm * scale) / 2;
    drawArt(type, proof, png, left, y + fieldMargin, scale);
  });
  return { block, scale };
}

/** The picture of the film, cut to the art, whose corner is put here. */
function drawArt(type: Typesetter, proof: ProofFacts, png: Uint8Array, x: number, y: number, scale: number): void {
  const { shownMm, sizeMm } = proof;
  const { doc } = type;
  doc.save();
  doc.rect(x, y, shownMm.widthMm * scale, shownMm.heightMm * scale).clip();
  doc.image(Buffer.from(png), x - shownMm.xMm * scale, y - shownMm.yMm * scale, {
    width: sizeMm.widthMm * scale,
    height: sizeMm.heightMm * scale,
  });
  doc.restore();
}

function onGarment(
  type: Typesetter,
  proof: ProofFacts,
  { language, units }: ProofWish,
  png: Uint8Array,
  room: number,
  most: number,
): Shown {
  const words = wordsIn(language);
  const place = proof.place!;
  const frame = frameOf(place.art, place.given);
  const scale = Math.min(
    (contentWidth - besideField.left - besideField.right) / lengthOf(frame.across),
    (room - besideField.above - besideField.below) / lengthOf(frame.down),
    most,
  );
  const field = { width: lengthOf(frame.across) * scale, height: lengthOf(frame.down) * scale };
  const size = { width: contentWidth, height: field.height + besideField.above + besideField.below };
  const alt = `${proof.title}: ${placeInWords(place.given, words, units)}`;
  const block = figure(type, size, alt, (x, y) => {
    const [left, top] = [
      x + besideField.left + (contentWidth - besideField.left - besideField.right - field.width) / 2,
      y + besideField.above,
    ];
    const toX = (mm: number) => left + (mm - frame.across.from) * scale;
    const toY = (mm: number) => top + (mm - frame.down.from) * scale;
    const { across, down } = frame.garment;
    const at: PlaceOnPage = {
      ...{ x: toX, y: toY },
      garment: { left: toX(across.from), right: toX(across.to), top: toY(down.from), bottom: toY(down.to) },
      whole: { left, top, right: left + field.width, bottom: top + field.height },
    };
    const { garment } = at;
    type.doc
      .rect(garment.left, garment.top, garment.right - garment.left, garment.bottom - garment.top)
      .fill(safeHex(proof.garmentHex));
    drawSeams(type, place.art, at, (key) => words.proof(key));
    drawArt(type, proof, png, toX(frame.leftMm), toY(frame.topMm), scale);
    drawSpans(type, frame.spans, at, ({ lengthMm }) => lengthIn(words, units, lengthMm));
  });
  return { block, scale };
}

function lengthOf({ from, to }: Extent): number {
  return to - from;
}

import type { Matrix } from '../../geometry/matrix.ts';
import { mmPerPoint } from '../../units/lengths.ts';
import type { NoteBook } from './noteBook.ts';
import { boxOf, type OpenPage } from './openPdf.ts';
import type { PdfValues } from './pdfValues.ts';

export interface PageGeometry {
  readonly widthMm: number;
  readonly heightMm: number;
  /** From default user space to film mm, page rotation applied. */
  readonly matrix: Matrix;
  readonly scaleKnown: boolean;
}

const largeMm = 3000;

/** The film is the crop box (ISO 32000-1, 14.11.2), turned by Rotate and scaled by UserUnit. */
export function readGeometry(values: PdfValues, page: OpenPage, notes: NoteBook): PageGeometry {
  const media = usable(page.mediaBox);
  const crop = usable(page.cropBox);
  let box = media ?? crop ?? [0, 0, 612, 792];
  if (!media) notes.add('no-page-box', 'size', 'The page does not say how large it is; US Letter was taken.');
  if (crop && media) {
    const met = [
      Math.max(crop[0], media[0]),
      Math.max(crop[1], media[1]),
      Math.min(crop[2], media[2]),
      Math.min(crop[3], media[3]),
    ];
    if (usable(met)) box = met;
    else notes.add('crop-box-outside', 'size', 'The crop box lies outside the page; the whole page was taken.');
  }
  const unit = values.number(page.dict, 'UserUnit') ?? 1;
  const scale = mmPerPoint * (unit > 0 && Number.isFinite(unit) ? unit : 1);
  const [x0, y0, x1, y1] = box;
  const width = (x1 - x0) * scale;
  const height = (y1 - y0) * scale;
  noteBoxes(values, page, box, scale, notes);
  if (Math.max(width, height) > largeMm) {
    notes.add('very-large-page', 'nothing', `The page is ${Math.round(width)} by ${Math.round(height)} mm large.`);
  }
  const turned = ((Math.round(page.rotate / 90) % 4) + 4) % 4;
  const s = scale;
  const matrices: readonly Matrix[] = [
    [s, 0, 0, -s, -x0 * s, y1 * s],
    [0, s, s, 0, -y0 * s, -x0 * s],
    [-s, 0, 0, s, x1 * s, -y0 * s],
    [0, -s, -s, 0, y1 * s, x1 * s],
  ];
  const upright = turned % 2 === 0;
  return {
    widthMm: upright ? width : height,
    heightMm: upright ? height : width,
    matrix: matrices[turned],
    scaleKnown: media !== null,
  };
}

function noteBoxes(values: PdfValues, page: OpenPage, film: readonly number[], scale: number, notes: NoteBook): void {
  const trim = usable(boxOf(values, page.dict, 'TrimBox'));
  if (!trim || trim.every((edge, k) => Math.abs(edge - film[k]) < 0.01)) return;
  const width = ((trim[2] - trim[0]) * scale).toFixed(1);
  const height = ((trim[3] - trim[1]) * scale).toFixed(1);
  notes.add(
    'trim-differs',
    'nothing',
    `The trim box (${width} by ${height} mm) differs from the film, which is the whole crop box.`,
  );
}

function usable(box: readonly number[] | null): readonly number[] | null {
  return box?.every(Number.isFinite) && box[2] - box[0] > 1e-6 && box[3] - box[1] > 1e-6 ? box : null;
}

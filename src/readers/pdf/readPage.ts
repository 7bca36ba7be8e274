import type { PDFDict } from '@cantoo/pdf-lib';
import type { FilmDrawing } from '../../artwork/drawing.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { walkAnnotations } from './annotations.ts';
import { ContentWalk } from './contentWalk.ts';
import { initialState } from './graphicsState.ts';
import { maxFlatInks } from './inkBook.ts';
import { nativeImageOf } from './nativeImage.ts';
import { NoteBook } from './noteBook.ts';
import type { OpenPage, OpenPdf } from './openPdf.ts';
import type { Layers } from './optionalContent.ts';
import { PageContext } from './pageContext.ts';
import { readGeometry } from './pageGeometry.ts';
import { groupKeys } from './passPlan.ts';
import { writePass } from './passWriter.ts';
import { asStream } from './pdfValues.ts';
import type { SceneItem } from './scene.ts';
import { separationNameOf } from './separations.ts';
import { decodedBytes, isDamaged } from './streamBytes.ts';

/** A page read, and what tells whether it is one ink's film. */
export interface PageReading {
  readonly film: ReadFilm;
  readonly paintsColour: boolean;
  readonly paintsGrey: boolean;
}

/** Walks a page once; its plates are written from what was found whenever they are asked for. */
export function readPage(fileName: string, pdf: OpenPdf, layers: Layers, page: OpenPage, number: number): PageReading {
  const { values } = pdf;
  const geometryNotes = new NoteBook();
  const geometry = readGeometry(values, page, geometryNotes);
  const context = new PageContext(fileName, values, layers, geometry.widthMm, geometry.heightMm);
  const items: SceneItem[] = [];
  const place = {
    resources: page.resources,
    out: items,
    nesting: 0,
    layerPath: [],
    layerOff: false,
    uncoloured: false,
  };
  const walk = new ContentWalk(context, initialState(geometry.matrix), place);
  walk.run(pageContent(context, page.dict));
  walkAnnotations(context, page.dict, geometry.matrix, items);
  context.forgetPicture();
  declareNamedInks(context, page.resources);
  if (context.inks.surplusColours.size > 0) {
    const count = context.inks.surplusColours.size + maxFlatInks;
    context.notes.add(
      'many-colours',
      'inks',
      `The art has ${count} or more unnamed colours; only the first ${maxFlatInks} were taken for inks.`,
    );
  }
  const label = separationNameOf(values, page.dict);
  const inks = context.inks.list();
  if (context.objects.length === 0) {
    context.notes.add('empty-page', 'nothing', 'Nothing is painted on this page.');
  }
  const native = nativeImageOf(items, context);
  if (!native && items.some((item) => item.type === 'image' && item.image.bits === 1)) {
    context.notes.add(
      'resampled-bitmap',
      'nothing',
      'A 1-bit picture stands among other art and is redrawn at the resolution of the plates.',
    );
  }
  const film: ReadFilm = {
    file: fileName,
    page: number,
    pageCount: pdf.pages.length,
    format: 'pdf',
    form: label === null ? 'composite' : 'separation',
    separationName: label,
    widthMm: geometry.widthMm,
    heightMm: geometry.heightMm,
    scaleKnown: geometry.scaleKnown,
    inks,
    objects: context.objects,
    notes: [...geometryNotes.list(), ...context.notes.list()],
    drawing: drawingOf(context, items, native),
    coverNotSought: true,
    nature: natureOf(items, native !== null),
  };
  return { film, paintsColour: context.paints.colour, paintsGrey: context.paints.grey };
}

function drawingOf(context: PageContext, items: readonly SceneItem[], nativeGrid: PixelGrid | null): FilmDrawing {
  return {
    nativeGrid,
    plan: async (keys, grid) => {
      // A native picture is given as bits, one ink at a time.
      const groups = nativeGrid ? keys.map((key) => [key]) : groupKeys(items, keys);
      return groups.map((group) => {
        const bilevel = nativeGrid !== null && group.length === 1;
        const bytes = writePass(context, items, group, grid);
        return { grid, keys: group, job: { engine: 'pdf', bytes, pageIndex: 0, ...(bilevel ? { bilevel } : {}) } };
      });
    },
  };
}

/** Pages of nothing but pictures came as bitmaps; what kind follows from their colours. */
function natureOf(items: readonly SceneItem[], native: boolean): ReadFilm['nature'] {
  if (native) return 'bitmap';
  const kinds = new Set<string>();
  for (const item of items) {
    if (item.type !== 'image' || item.image.isStencil) return 'vector';
    const { space } = item.image;
    kinds.add((space?.kind === 'indexed' ? space.base.kind : space?.kind) ?? 'gray');
  }
  if (kinds.size === 0) return 'vector';
  if (kinds.has('rgb')) return 'photograph';
  return kinds.has('cmyk') || kinds.has('inks') ? 'splitBitmap' : 'bitmap';
}

/** The content streams of the page as one, as if a blank stood between them (ISO 32000-1, 7.8.2). */
function pageContent(context: PageContext, page: PDFDict): Uint8Array {
  const { values } = context;
  const contents = values.get(page, 'Contents');
  const streams = (values.list(contents) ?? [contents]).map(asStream).filter((stream) => stream !== null);
  const parts: Uint8Array[] = [];
  for (const stream of streams) {
    const bytes = decodedBytes(values, stream);
    if (bytes) parts.push(bytes, Uint8Array.of(10));
    if (!bytes || isDamaged(stream))
      context.notes.add(
        'damaged-content',
        'plate',
        'A part of the drawing commands is damaged and cannot be unpacked.',
      );
  }
  return parts.length === 2 ? parts[0] : Buffer.concat(parts);
}

/** Inks that stand in the resources of the page and were never met in its content. */
function declareNamedInks(context: PageContext, resources: PDFDict | null): void {
  const spaces = context.values.dict(resources, 'ColorSpace');
  for (const [key] of spaces?.entries() ?? []) {
    context.spaces.named(key.decodeText(), resources);
  }
}

import type { ArtObject } from '../../artwork/artObject.ts';
import type { DrawPass, FilmDrawing } from '../../artwork/drawing.ts';
import type { FilmFormat, ReadFilm } from '../../artwork/film.ts';
import type { FilmInk } from '../../artwork/ink.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import type { BitmapRecipe, ChannelRule } from '../../raster/bitmap/bitmapRecipe.ts';
import { swapsSides } from '../../raster/bitmap/orientBands.ts';
import { orientedSize } from '../../raster/bitmap/readBands.ts';
import type { BitPlane } from '../../raster/bitPlane.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { dpiFromPitchMm } from '../../units/lengths.ts';
import type { ReadOptions } from '../reader.ts';
import { mirroredNotes } from './mirroredNotes.ts';
import { type StatedResolution, scaleOf } from './scaleOf.ts';

const inksAPass = 3;

export interface BitmapFilmParts {
  readonly file: string;
  readonly page: number;
  readonly pageCount: number;
  readonly format: FilmFormat;
  readonly bytes: Uint8Array;
  readonly recipe: BitmapRecipe;
  /** Of a one-bit film: its pixels, turned to read right. */
  readonly pixels?: BitPlane;
  /** As stored, before the film is turned to read right. */
  readonly stated: StatedResolution | null;
  readonly form: ReadFilm['form'];
  readonly separationName: string | null;
  readonly nature: ReadFilm['nature'];
  readonly inks: readonly FilmInk[];
  readonly notes: readonly ReadNote[];
  readonly bitsPerComponent: number;
  readonly colour: NonNullable<ArtObject['image']>['colour'];
}

/** A film of a bitmap: its size from the resolution, and passes over its own pixels. */
export function bitmapFilm(parts: BitmapFilmParts, options: ReadOptions): ReadFilm {
  const { recipe, inks } = parts;
  const { widthPx, heightPx } = orientedSize(recipe.source, recipe.orientation);
  const stated =
    parts.stated !== null && swapsSides(recipe.orientation)
      ? { ppiX: parts.stated.ppiY, ppiY: parts.stated.ppiX }
      : parts.stated;
  const scale = scaleOf(stated, widthPx, heightPx, options);
  const grid: PixelGrid = { widthPx, heightPx, pitchXMm: scale.pitchXMm, pitchYMm: scale.pitchYMm };
  const widthMm = widthPx * scale.pitchXMm;
  const heightMm = heightPx * scale.pitchYMm;
  const image: ArtObject = {
    id: 'image1',
    kind: 'image',
    boxMm: { xMm: 0, yMm: 0, widthMm, heightMm },
    inks: inks.filter((ink) => ink.used).map((ink) => ({ key: ink.key, tintRatio: 1 })),
    isWhite: false,
    strokeWidthMm: null,
    text: null,
    image: {
      widthPx,
      heightPx,
      ppiX: dpiFromPitchMm(scale.pitchXMm),
      ppiY: dpiFromPitchMm(scale.pitchYMm),
      bitsPerComponent: parts.bitsPerComponent,
      colour: parts.colour,
    },
    overprint: null,
    opacityRatio: 1,
    blendMode: 'Normal',
    layerPath: [],
    hidden: null,
  };
  return {
    file: parts.file,
    page: parts.page,
    pageCount: parts.pageCount,
    format: parts.format,
    form: parts.form,
    separationName: parts.separationName,
    widthMm,
    heightMm,
    scaleKnown: scale.scaleKnown,
    inks,
    objects: [image],
    notes: [...parts.notes, ...mirroredNotes(recipe.orientation), ...scale.notes],
    drawing: parts.pixels === undefined ? drawingOf(parts.bytes, recipe, grid) : oneBitDrawing(parts.pixels, grid),
    nature: parts.nature,
  };
}

function drawingOf(bytes: Uint8Array, recipe: BitmapRecipe, nativeGrid: PixelGrid): FilmDrawing {
  return {
    nativeGrid,
    plan: async (keys) => {
      const passes: DrawPass[] = [];
      for (let from = 0; from < keys.length; from += inksAPass) {
        const some = keys.slice(from, from + inksAPass);
        const channels = rulesFor(recipe.channels, some);
        passes.push({
          grid: nativeGrid,
          keys: some,
          job: { engine: 'bitmap', bytes, recipe: { ...recipe, channels } },
        });
      }
      return passes;
    },
  };
}

function oneBitDrawing(pixels: BitPlane, nativeGrid: PixelGrid): FilmDrawing {
  return {
    nativeGrid,
    plan: async (keys) => keys.map((key) => ({ grid: nativeGrid, keys: [key], job: { engine: 'bitmap', pixels } })),
  };
}

function rulesFor(rule: ChannelRule, keys: readonly string[]): ChannelRule {
  if (rule.kind !== 'tones') return rule;
  return { ...rule, channels: rule.channels.filter((channel) => keys.includes(channel.key)) };
}

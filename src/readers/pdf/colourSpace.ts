import type { PDFDict, PDFObject } from '@cantoo/pdf-lib';
import { type NumberFunction, readFunction } from './functions.ts';
import type { InkBook } from './inkBook.ts';
import { asBytes, asDict, asName, asNumber, asStream, type PdfValues } from './pdfValues.ts';
import { decodedBytes } from './streamBytes.ts';

/**
 * A colour space as far as inks are concerned. `direct` is DeviceCMYK itself, the only space overprint mode 1 acts on.
 * `keys` of an inks space are the channels its components paint, null for `None`.
 */
export type ColourSpace =
  | { readonly kind: 'gray'; readonly components: 1 }
  | {
      readonly kind: 'rgb';
      readonly components: 3;
      readonly toRgb: NumberFunction;
      readonly ranges: readonly number[] | null;
    }
  | { readonly kind: 'cmyk'; readonly components: 4; readonly direct: boolean }
  | { readonly kind: 'inks'; readonly components: number; readonly keys: readonly (string | null)[] }
  | {
      readonly kind: 'indexed';
      readonly components: 1;
      readonly base: ColourSpace;
      readonly highest: number;
      readonly table: Uint8Array;
    }
  | { readonly kind: 'pattern'; readonly components: number; readonly base: ColourSpace | null };

export const deviceGray: ColourSpace = { kind: 'gray', components: 1 };
export const deviceRgb: ColourSpace = { kind: 'rgb', components: 3, toRgb: (c) => [...c], ranges: null };
export const deviceCmyk: ColourSpace = { kind: 'cmyk', components: 4, direct: true };
const iccCmyk: ColourSpace = { kind: 'cmyk', components: 4, direct: false };

const deviceSpaces: Readonly<Record<string, ColourSpace>> = {
  DeviceGray: deviceGray,
  CalGray: deviceGray,
  DeviceRGB: deviceRgb,
  CalRGB: deviceRgb,
  DeviceCMYK: deviceCmyk,
};
const shortSpaces: Readonly<Record<string, ColourSpace>> = { G: deviceGray, RGB: deviceRgb, CMYK: deviceCmyk };

const maxNesting = 8;

/** Reads colour spaces of a document; the same object gives the same space. */
export class ColourSpaces {
  private readonly values: PdfValues;
  private readonly inks: InkBook;
  private readonly known = new Map<PDFObject, ColourSpace | null>();

  constructor(values: PdfValues, inks: InkBook) {
    this.values = values;
    this.inks = inks;
  }

  /** The space of a name or array; names are looked up in the resources. Null when it cannot be understood. */
  read(object: PDFObject | null, resources: PDFDict | null, nesting = 0): ColourSpace | null {
    if (nesting > maxNesting) return null;
    const name = asName(object);
    if (name !== null) return this.named(name, resources, nesting);
    if (!object) return null;
    const known = this.known.get(object);
    if (known !== undefined) return known;
    const space = this.build(object, resources, nesting);
    this.known.set(object, space);
    return space;
  }

  /** The space of a name; the short names of inline images give way to resources of that name. */
  named(name: string, resources: PDFDict | null, nesting = 0): ColourSpace | null {
    const device = deviceSpaces[name];
    if (device) return device;
    if (name === 'Pattern') return { kind: 'pattern', components: 0, base: null };
    const found = this.values.get(this.values.dict(resources, 'ColorSpace'), name);
    return found ? this.read(found, resources, nesting + 1) : (shortSpaces[name] ?? null);
  }

  private build(object: PDFObject, resources: PDFDict | null, nesting: number): ColourSpace | null {
    const { values } = this;
    const parts = values.list(object);
    if (!parts || parts.length === 0) return null;
    const family = asName(parts[0]) ?? '';
    const device = deviceSpaces[family] ?? shortSpaces[family];
    if (device) return device;
    switch (family) {
      case 'Lab':
        return this.lab(asDict(parts[1]));
      case 'ICCBased':
        return this.icc(parts[1], resources, nesting);
      case 'Separation':
        return this.colorants([parts[1]], parts[2], parts[3], resources, nesting);
      case 'DeviceN':
        return this.colorants(values.list(parts[1]) ?? [], parts[2], parts[3], resources, nesting);
      case 'Indexed':
      case 'I':
        return this.indexed(parts, resources, nesting);
      case 'Pattern': {
        const base = parts[1] ? this.read(parts[1], resources, nesting + 1) : null;
        return { kind: 'pattern', components: base?.components ?? 0, base };
      }
      default:
        return null;
    }
  }

  private icc(profile: PDFObject | null, resources: PDFDict | null, nesting: number): ColourSpace | null {
    const dict = asDict(profile);
    const count = this.values.number(dict, 'N');
    if (count === 1) return deviceGray;
    if (count === 4) return iccCmyk;
    const alternate = this.values.get(dict, 'Alternate');
    if (count === 3) {
      const space = alternate ? this.read(alternate, resources, nesting + 1) : null;
      return space?.kind === 'rgb' ? space : deviceRgb;
    }
    return alternate ? this.read(alternate, resources, nesting + 1) : null;
  }

  private lab(dict: PDFDict | null): ColourSpace {
    const range = this.values.numbersOf(dict, 'Range') ?? [-100, 100, -100, 100];
    return { kind: 'rgb', components: 3, toRgb: labToRgb, ranges: [0, 100, ...range] };
  }

  private colorants(
    names: readonly (PDFObject | null)[],
    alternate: PDFObject | null,
    transform: PDFObject | null,
    resources: PDFDict | null,
    nesting: number,
  ): ColourSpace | null {
    if (names.length === 0 || names.length > 64) return null;
    const space = alternate ? this.read(alternate, resources, nesting + 1) : null;
    const tint = readFunction(this.values, transform);
    const keys = names.map((item, index) => {
      const name = asName(item);
      if (name === null) return null;
      return this.inks.keyOfColorant(name, () => displayOf(space, tint, names.length, index));
    });
    return { kind: 'inks', components: names.length, keys };
  }

  private indexed(
    parts: readonly (PDFObject | null)[],
    resources: PDFDict | null,
    nesting: number,
  ): ColourSpace | null {
    const base = this.read(parts[1], resources, nesting + 1);
    const highest = asNumber(parts[2]);
    if (!base || highest === null || base.kind === 'indexed' || base.kind === 'pattern') return null;
    const stream = asStream(parts[3]);
    const table = stream ? decodedBytes(this.values, stream) : asBytes(parts[3]);
    if (!table) return null;
    return { kind: 'indexed', components: 1, base, highest: Math.max(0, Math.min(255, Math.floor(highest))), table };
  }
}

/** The colour of an entry of an indexed space, as components of its base. */
export function indexedComponents(space: ColourSpace & { kind: 'indexed' }, index: number): number[] {
  const { base, table } = space;
  const entry = Math.max(0, Math.min(space.highest, Math.round(index)));
  const out: number[] = [];
  for (let k = 0; k < base.components; k++) {
    const raw = (table[entry * base.components + k] ?? 0) / 255;
    const ranges = base.kind === 'rgb' ? base.ranges : null;
    out.push(ranges ? ranges[2 * k] + raw * (ranges[2 * k + 1] - ranges[2 * k]) : raw);
  }
  return out;
}

function displayOf(space: ColourSpace | null, tint: NumberFunction | null, count: number, index: number): string {
  if (!space || !tint) return '#808080';
  const inputs = new Array<number>(count).fill(0);
  inputs[index] = 1;
  return hexOfComponents(space, tint(inputs));
}

/** A colour for showing only; naive for CMYK. */
export function hexOfComponents(space: ColourSpace, components: readonly number[]): string {
  const at = (k: number) => components[k] ?? 0;
  if (space.kind === 'gray') return hexOf([at(0), at(0), at(0)]);
  if (space.kind === 'rgb') return hexOf(space.toRgb(components));
  if (space.kind === 'cmyk') return hexOf([0, 1, 2].map((k) => (1 - at(k)) * (1 - at(3))));
  return '#808080';
}

export function hexOf(rgb: readonly number[]): string {
  const two = (v: number) =>
    Math.round(255 * Math.min(1, Math.max(0, v || 0)))
      .toString(16)
      .padStart(2, '0');
  return `#${two(rgb[0])}${two(rgb[1])}${two(rgb[2])}`;
}

/** CIE Lab to sRGB (IEC 61966-2-1 matrix and curve), white scaled to sRGB's own so that paper white stays white. */
function labToRgb([lightness, a, b]: readonly number[]): number[] {
  const fy = (lightness + 16) / 116;
  const cube = (t: number) => (t > 6 / 29 ? t ** 3 : 3 * (6 / 29) ** 2 * (t - 4 / 29));
  const [x, y, z] = [cube(fy + a / 500), cube(fy), cube(fy - b / 200)].map((v, k) => v * d65[k]);
  return [
    3.2406 * x - 1.5372 * y - 0.4986 * z,
    -0.9689 * x + 1.8758 * y + 0.0415 * z,
    0.0557 * x - 0.204 * y + 1.057 * z,
  ].map((v) => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
}

const d65 = [0.95047, 1, 1.08883];

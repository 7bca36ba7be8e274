/**
 * How the pixels of a bitmap film are found in its file and what they mean: plain data, made once by a reader and
 * carried out by the bitmap engine, if need be in a worker. Samples are numbered from 0 as they are stored.
 */
export interface BitmapRecipe {
  readonly source: BitmapSource;
  /** How the stored rows are turned to read right: TIFF 6.0, tag 274, values 1 to 8. */
  readonly orientation: number;
  readonly channels: ChannelRule;
}

export type BitmapSource = TiffLayout | PngBitsLayout | PsdLayout | LibraryLayout;

/** One directory of a TIFF file, resolved: where its strips or tiles lie and how they are packed. */
export interface TiffLayout {
  readonly kind: 'tiff';
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bitsPerSample: number;
  readonly samplesPerPixel: number;
  /** Samples of one pixel lie in planes of their own (PlanarConfiguration 2). */
  readonly planar: boolean;
  readonly compression: number;
  readonly predictor: number;
  readonly lowBitFirst: boolean;
  readonly littleEndian: boolean;
  /** T4Options, tag 292. */
  readonly faxOptions: number;
  /** Strips are chunks as wide as the image; tiles have a width of their own. */
  readonly chunkWidthPx: number;
  readonly chunkHeightPx: number;
  readonly offsets: readonly number[];
  readonly byteCounts: readonly number[];
  /** Colour map with 8 bits a component, red, green and blue one after the other; null without one. */
  readonly colourMap: Uint8Array | null;
}

/** A one-bit PNG: the pieces of its one compressed stream. */
export interface PngBitsLayout {
  readonly kind: 'pngBits';
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pieces: readonly { readonly offset: number; readonly length: number }[];
}

/** The merged picture of a layered file, channel after channel. */
export interface PsdLayout {
  readonly kind: 'psd';
  readonly widthPx: number;
  readonly heightPx: number;
  readonly channelCount: number;
  readonly bitsPerSample: number;
  readonly packed: boolean;
  /** Where the rows begin; for packed rows the table of their lengths stands before it. */
  readonly dataOffset: number;
  readonly rowLengths: Uint32Array | null;
  readonly colourMap: Uint8Array | null;
}

/** Pixels the image library decodes. */
export interface LibraryLayout {
  readonly kind: 'library';
  readonly widthPx: number;
  readonly heightPx: number;
  /** Page from 0. */
  readonly page: number;
  readonly space: 'b-w' | 'srgb' | 'cmyk';
  readonly sampleCount: number;
}

export type ChannelRule =
  /** One-bit samples; `invert` when 1 is clear. */
  | { readonly kind: 'bits'; readonly invert: boolean }
  /** One sample a channel; `invert` when the highest value is clear. Alpha lays the channel on clear film. */
  | {
      readonly kind: 'tones';
      readonly channels: readonly ToneChannel[];
      readonly alpha: AlphaSample | null;
    }
  /** Flat colours told apart. */
  | { readonly kind: 'flat'; readonly split: FlatSplit };

/** Which sample is alpha, and whether the others were multiplied by it. */
export interface AlphaSample {
  readonly sample: number;
  readonly premultiplied: boolean;
}

export interface ToneChannel {
  readonly key: string;
  readonly sample: number;
  readonly invert: boolean;
}

/** The flat colours of a picture and how freely a pixel counts as one of them. */
export interface FlatSplit {
  readonly colours: readonly FlatColour[];
  /** Largest difference of a component at which a pixel still is a colour itself and not a mixture. */
  readonly tolerance: number;
  /** Edges are antialiased or noisy, so that pixels between two colours occur. */
  readonly mixtures: boolean;
  readonly alpha: AlphaSample | null;
  /** Samples that are red, green and blue. */
  readonly rgbSamples: readonly [number, number, number];
}

export interface FlatColour {
  /** Key of its ink; null for the ground nothing is printed on. */
  readonly key: string | null;
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  /** True for what is see-through: the ground of a picture with alpha. */
  readonly clear: boolean;
}

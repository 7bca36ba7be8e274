import type { ToneImage } from '../raster/toneImage.ts';

export type { ToneImage };

/** A part of the films enlarged around a place of a finding. */
export interface Crop {
  readonly checkId: string;
  readonly findingIndex: number;
  readonly placeIndex: number;
  readonly filmId: string;
  /** Film position of the crop's top left corner. */
  readonly xMm: number;
  readonly yMm: number;
  /** One image a plate concerned, all of the same size, in the order of the finding's `plateIds`. */
  readonly layers: readonly { readonly plateId: string; readonly image: ToneImage }[];
}

/** Everything the report shows of the plates, taken while they were there to be measured. */
export interface Pictures {
  /** Each plate reduced to at most 1,400 px, by plate id. */
  readonly plates: ReadonlyMap<string, ToneImage>;
  readonly crops: readonly Crop[];
  /** Registration marks enlarged; none when left out. */
  readonly marks?: readonly MarkCrop[];
  /** Spectra of halftoned parts; none when left out. */
  readonly spectra?: readonly SpectrumOfPart[];
}

/** The spectrum of a window of a halftoned part. */
export interface SpectrumOfPart {
  readonly plateId: string;
  /** Within the halftoned parts of the plate in the report. */
  readonly region: number;
  /** Square, no frequency in the middle. */
  readonly image: ToneImage;
  /** Frequency at the middle of each side, lines an inch. */
  readonly reachLpi: number;
}

/** A registration mark and what stands around it on its own plate. */
export interface MarkCrop {
  readonly plateId: string;
  /** Within the marks of the plate in the report. */
  readonly markIndex: number;
  /** Film position of the crop's top left corner. */
  readonly xMm: number;
  readonly yMm: number;
  readonly image: ToneImage;
}

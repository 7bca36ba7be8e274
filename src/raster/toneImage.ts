/** Grey pixels, 0 = clear … 255 = opaque, row by row. */
export interface ToneImage {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly tones: Uint8Array;
  /** Millimetres a pixel. */
  readonly pitchXMm: number;
  readonly pitchYMm: number;
}

/**
 * Full-width rows of the plates of one pass, top to bottom, without gaps. Either tones (one byte a pixel and channel,
 * 0 = clear, 255 = opaque) or, for a 1-bit film, one packed channel in the layout of `BitPlane`.
 * The arrays of a strip may be used again for the next one.
 */
export type Strip =
  | {
      readonly kind: 'tones';
      readonly top: number;
      readonly rows: number;
      readonly channels: readonly Uint8Array[];
      /** Bytes from one row to the next when that is more than the width; what lies between is 0. */
      readonly stridePx?: number;
    }
  | { readonly kind: 'bits'; readonly top: number; readonly rows: number; readonly words: Uint32Array };

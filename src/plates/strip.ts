/**
 * Full-width rows of the plates of one pass, top to bottom, without gaps. The arrays of a strip may be used again for
 * the next one.
 */
export interface Strip {
  readonly top: number;
  readonly rows: number;
  /** One a key of the pass. */
  readonly channels: readonly ChannelRows[];
}

/** Tones, one byte a pixel (0 = clear, 255 = opaque), or packed bits in the layout of `BitPlane`. */
export type ChannelRows =
  | {
      readonly kind: 'tones';
      readonly tones: Uint8Array;
      /** Bytes from one row to the next when that is more than the width; what lies between is 0. */
      readonly stridePx?: number;
    }
  | { readonly kind: 'bits'; readonly words: Uint32Array };

/** Channels of tones whose rows follow each other without gaps. */
export function toneChannels(channels: readonly Uint8Array[]): ChannelRows[] {
  return channels.map((tones) => ({ kind: 'tones', tones }));
}

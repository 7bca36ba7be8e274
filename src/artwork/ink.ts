/**
 * `spot`: named in the file. `process`: cyan, magenta, yellow, black of a process separation.
 * `flat`: a distinct solid colour nobody named. `registration`: prints on every film (PDF Separation `All`).
 */
export type InkKind = 'spot' | 'process' | 'flat' | 'registration';

/** An ink as one film has it. `key` is unique within its film and says which of its channels is meant. */
export interface FilmInk {
  readonly key: string;
  readonly name: string;
  readonly kind: InkKind;
  /** `#rrggbb`, sRGB, for showing only. */
  readonly displayHex: string;
  /** Whether anything is painted with it; an ink may be declared and never used. */
  readonly used: boolean;
}

export type InkNameOrigin = 'file' | 'ticket' | 'fileName' | 'colour';

/** An ink of the joined job. */
export interface Ink {
  readonly id: string;
  readonly name: string;
  readonly nameFrom: InkNameOrigin;
  readonly kind: InkKind;
  readonly displayHex: string;
  /** False for inks that make no plate: declared but unused, or the registration colour. */
  readonly printed: boolean;
}

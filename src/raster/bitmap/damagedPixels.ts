/** Thrown by a decoder that meets pixels it cannot make out; the reader turns it into a sentence with the file's name. */
export class DamagedPixels extends Error {
  override readonly name = 'DamagedPixels';
  readonly truncated: boolean;

  constructor(message: string, truncated = false) {
    super(message);
    this.truncated = truncated;
  }
}

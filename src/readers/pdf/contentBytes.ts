/** A growing content stream. Numbers are written with three decimals: thousandths of a pixel. */
export class ContentBytes {
  private held = new Uint8Array(16384);
  private at = 0;

  get length(): number {
    return this.at;
  }

  text(text: string): void {
    this.room(text.length);
    for (let k = 0; k < text.length; k++) this.held[this.at++] = text.charCodeAt(k);
  }

  /** A number followed by a space. */
  number(value: number): void {
    this.room(24);
    if (!(Math.abs(value) < 2e6)) value = value > 0 ? 2e6 : value < 0 ? -2e6 : 0;
    let thousandths = Math.round(value * 1000);
    if (thousandths < 0) {
      this.held[this.at++] = 45;
      thousandths = -thousandths;
    }
    const whole = Math.floor(thousandths / 1000);
    this.digits(whole);
    const rest = thousandths - whole * 1000;
    if (rest > 0) {
      this.held[this.at++] = 46;
      this.held[this.at++] = 48 + Math.floor(rest / 100);
      if (rest % 100 > 0) {
        this.held[this.at++] = 48 + (Math.floor(rest / 10) % 10);
        if (rest % 10 > 0) this.held[this.at++] = 48 + (rest % 10);
      }
    }
    this.held[this.at++] = 32;
  }

  /** A string in hexadecimal. */
  hex(bytes: Uint8Array): void {
    this.room(2 * bytes.length + 2);
    this.held[this.at++] = 60;
    for (const byte of bytes) {
      this.held[this.at++] = hexDigits[byte >> 4];
      this.held[this.at++] = hexDigits[byte & 15];
    }
    this.held[this.at++] = 62;
  }

  bytes(): Uint8Array {
    return this.held.subarray(0, this.at);
  }

  private digits(whole: number): void {
    let divisor = 1;
    while (divisor * 10 <= whole) divisor *= 10;
    for (; divisor >= 1; divisor = Math.floor(divisor / 10))
      this.held[this.at++] = 48 + (Math.floor(whole / divisor) % 10);
  }

  private room(count: number): void {
    if (this.at + count <= this.held.length) return;
    const larger = new Uint8Array(Math.max(2 * this.held.length, this.at + count));
    larger.set(this.held);
    this.held = larger;
  }
}

const hexDigits = [...'0123456789abcdef'].map((c) => c.charCodeAt(0));

/** Numbers of a transform or colour as text, precise enough for any matrix. */
export function written(values: readonly number[]): string {
  return values.map((v) => (Number.isFinite(v) ? shortest(v) : '0')).join(' ');
}

function shortest(value: number): string {
  const text = value.toFixed(7).replace(/\.?0+$/, '');
  return text === '-0' || text === '' ? '0' : text;
}

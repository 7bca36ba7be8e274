/** Numbers appended one at a time without an object a number. */
export class GrowingInts {
  values: Int32Array = new Int32Array(256);
  length = 0;

  push(value: number): void {
    if (this.length === this.values.length) {
      const larger = new Int32Array(2 * this.length);
      larger.set(this.values);
      this.values = larger;
    }
    this.values[this.length++] = value;
  }
}

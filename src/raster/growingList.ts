/** Numbers appended one at a time without an object a number. */
export class GrowingInts {
  values: Int32Array = new Int32Array(256);
  length = 0;

  push(value: number): void {
    if (this.length === this.values.length) this.makeRoom(1);
    this.values[this.length++] = value;
  }

  /** So many numbers can be written behind those there are. */
  makeRoom(count: number): void {
    if (this.length + count <= this.values.length) return;
    const larger = new Int32Array(2 * (this.length + count));
    larger.set(this.values);
    this.values = larger;
  }
}

/** Keeps promises of what was asked for last, up to a number; one that fails is not kept. */
export class Recent<Kept extends Promise<unknown>> {
  private readonly entries = new Map<string, Kept>();
  private readonly most: number;

  constructor(most: number) {
    this.most = most;
  }

  /** What is kept under a key, made when there is nothing. */
  get(key: string, make: () => Kept): Kept {
    const known = this.entries.get(key);
    if (known !== undefined) {
      this.entries.delete(key);
      this.entries.set(key, known);
      return known;
    }
    const made = make();
    this.entries.set(key, made);
    made.catch(() => this.entries.delete(key));
    if (this.entries.size > this.most) this.entries.delete(this.entries.keys().next().value!);
    return made;
  }
}

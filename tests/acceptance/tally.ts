/** Counts what held and keeps what did not, by question. */
export class Tally {
  private readonly counts = new Map<string, { held: number; asked: number; misses: string[] }>();
  private readonly values = new Map<string, { value: number; name: string }[]>();

  add(question: string, held: boolean, story: string): void {
    const count = this.counts.get(question) ?? { held: 0, asked: 0, misses: [] };
    this.counts.set(question, count);
    count.asked++;
    if (held) count.held++;
    else count.misses.push(story);
  }

  measure(question: string, value: number, name: string): void {
    const list = this.values.get(question) ?? [];
    this.values.set(question, list);
    list.push({ value, name });
  }

  /** Share held of all asked, 0 to 1; an error when nothing was asked. */
  share(question: string): number {
    const { held, asked } = this.counts.get(question)!;
    return held / asked;
  }

  rms(question: string): number {
    const list = this.values.get(question)!;
    return Math.sqrt(list.reduce((sum, { value }) => sum + value * value, 0) / list.length);
  }

  lines(): string[] {
    const lines: string[] = [];
    for (const [question, { held, asked, misses }] of this.counts) {
      lines.push(`${question}: ${held} of ${asked}`);
      for (const miss of misses.slice(0, 20)) lines.push(`    ${miss}`);
    }
    for (const [question, list] of this.values) {
      const worst = list.reduce((a, b) => (Math.abs(b.value) > Math.abs(a.value) ? b : a));
      lines.push(
        `${question}: rms ${this.rms(question).toFixed(4)}, worst ${worst.value.toFixed(4)} (${worst.name}), ${list.length} values`,
      );
    }
    return lines;
  }
}

/** What intake tells people: one line each, already in plain words. */
export interface Say {
  /** About one job or file: taken in, checked, put aside. */
  job(line: string, facts?: Readonly<Record<string, unknown>>): void;
  /** Something is wrong and needs somebody, or has come right again. */
  trouble(line: string, facts?: Readonly<Record<string, unknown>>): void;
}

/** Says a thing once as long as it stays the same; says it again after it was different or settled. */
export class OnceEach {
  private readonly said = new Map<string, string>();
  private readonly say: (line: string) => void;

  constructor(say: (line: string) => void) {
    this.say = say;
  }

  tell(about: string, line: string): void {
    if (this.said.get(about) === line) return;
    this.said.set(about, line);
    this.say(line);
  }

  settled(about: string): boolean {
    return this.said.delete(about);
  }
}

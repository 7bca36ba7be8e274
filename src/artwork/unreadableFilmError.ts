/** A film that cannot be opened. The message is one plain sentence; `remedy` is what to do about it. */
export class UnreadableFilmError extends Error {
  override readonly name = 'UnreadableFilmError';
  readonly code: UnreadableFilmCode;
  readonly fileName: string;
  readonly remedy: string;

  constructor(code: UnreadableFilmCode, fileName: string, problem: string, remedy: string, cause?: unknown) {
    super(problem, { cause });
    this.code = code;
    this.fileName = fileName;
    this.remedy = remedy;
  }
}

export type UnreadableFilmCode =
  | 'empty-file'
  | 'truncated-file'
  | 'damaged-file'
  | 'unknown-format'
  | 'password-needed'
  | 'wrong-password'
  | 'too-large'
  | 'too-complex'
  | 'no-page'
  | 'interpreter-missing'
  /** Nothing is known to be wrong with a film: the job as a whole could not be looked at. */
  | 'not-checked';

import type { Inspection } from './inspection.ts';

type Memo = Map<string, Promise<unknown>>;
const memos = new WeakMap<Inspection['report'], WeakMap<Inspection['pictures'], Memo>>();

/**
 * A picture made once for an inspection, however many outputs show it. `key` must name all it depends on besides the
 * report and the pictures themselves.
 */
export function pictureOnce<T>({ report, pictures }: Inspection, key: string, make: () => Promise<T>): Promise<T> {
  const ofReport = memos.get(report) ?? new WeakMap<Inspection['pictures'], Memo>();
  memos.set(report, ofReport);
  const memo = ofReport.get(pictures) ?? (new Map() as Memo);
  ofReport.set(pictures, memo);
  const picture = (memo.get(key) as Promise<T> | undefined) ?? make();
  memo.set(key, picture);
  return picture;
}

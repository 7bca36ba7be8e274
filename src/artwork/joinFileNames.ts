/**
 * The part of each file name that tells the films apart: words at the start and the end that all names share are
 * dropped, and so are numbers beside a word. Null where nothing is left. One film alone keeps what is not the job's name.
 */
export function differingParts(files: readonly string[], jobName: string): readonly (string | null)[] {
  const distinct = [...new Set(files)];
  const words = distinct.map(wordsOf);
  const parts = distinct.length > 1 ? withoutShared(words) : words.map((list) => withoutJob(list, wordsOf(jobName)));
  const bare = parts.map(withoutNumbers);
  const unique = new Set(bare.map((list) => list.join(' ').toLowerCase())).size === bare.length;
  const chosen = unique ? bare : parts;
  const byFile = new Map(distinct.map((file, index) => [file, chosen[index].join(' ')]));
  return files.map((file) => byFile.get(file) || null);
}

function wordsOf(file: string): string[] {
  const base = file.replace(/^.*[\\/]/, '').replace(/\.[A-Za-z0-9]{1,5}$/, '');
  return base.split(/[\s_.,()[\]+-]+/).filter((word) => word !== '');
}

function withoutShared(lists: readonly string[][]): string[][] {
  const shortest = Math.min(...lists.map((list) => list.length));
  const same = (at: (list: string[]) => string) =>
    lists.every((list) => at(list).toLowerCase() === at(lists[0]).toLowerCase());
  let front = 0;
  while (front < shortest && same((list) => list[front])) front++;
  let back = 0;
  while (back < shortest - front && same((list) => list[list.length - 1 - back])) back++;
  return lists.map((list) => list.slice(front, list.length - back));
}

function withoutJob(list: string[], job: readonly string[]): string[] {
  let front = 0;
  while (front < list.length && front < job.length && list[front].toLowerCase() === job[front].toLowerCase()) front++;
  return front === list.length ? list : list.slice(front);
}

function withoutNumbers(list: string[]): string[] {
  const kept = list.filter((word) => !/^\d+$/.test(word));
  return kept.length > 0 ? kept : list;
}

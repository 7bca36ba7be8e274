/** A file with its path in what was dropped: "films/coral.tif". */
export interface Brought {
  readonly name: string;
  readonly file: File;
}

/** All files of a drop, those in folders included. */
export async function filesOfDrop(transfer: DataTransfer): Promise<Brought[]> {
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  if (entries.length === 0) return [...transfer.files].map((file) => ({ name: file.name, file }));
  return (await Promise.all(entries.map((entry) => filesOf(entry, '')))).flat();
}

async function filesOf(entry: FileSystemEntry, folder: string): Promise<Brought[]> {
  const name = `${folder}${entry.name}`;
  if (entry.isFile) {
    const file = await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject));
    return [{ name, file }];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const all: FileSystemEntry[] = [];
  // A reader gives some at a time, and none when it is through.
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (some.length === 0) break;
    all.push(...some);
  }
  return (await Promise.all(all.map((one) => filesOf(one, `${name}/`)))).flat();
}

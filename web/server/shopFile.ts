import { createHash } from 'node:crypto';
import { appendFile, mkdir, open, readFile, rename, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { stringify } from 'yaml';
import { parseTicketText } from '../../src/ticket/parseTicketText.ts';
import { resolveTicket, type TicketText } from '../../src/ticket/resolveTicket.ts';
import { WrongTicketError } from '../../src/ticket/ticket.ts';
import type { ShopChange, ShopFacts } from '../shared/shop.ts';
import { Refused, WrongValues } from './refused.ts';

type Values = Readonly<Record<string, unknown>>;

/** What runs commands, sends mail and is told to customers is for who may write the file. */
export const keptBack: readonly string[] = ['notify', 'note', 'customerPage'];

/**
 * The shop's file, read and written for the page. What it says of commands and webhooks is neither shown nor changed:
 * whoever may set a command runs programs on this machine, and that is for those who can write the file itself.
 */
export class ShopFile {
  readonly path: string;
  private readonly historyFolder: string;
  private writing: Promise<unknown> = Promise.resolve();

  constructor(path: string, historyFolder: string) {
    this.path = path;
    this.historyFolder = historyFolder;
  }

  /** Null when there is none. */
  async textFile(): Promise<TicketText | null> {
    try {
      return { fileName: basename(this.path), text: await readFile(this.path, 'utf8') };
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
      throw error;
    }
  }

  async facts(): Promise<ShopFacts> {
    const text = (await this.textFile())?.text ?? '';
    const problems = this.problemsOf(text);
    const values = problems.length > 0 ? null : shown(valuesOf(text));
    return { values, problems, version: versionOf(text), history: await this.history() };
  }

  /** The text that these values make, with what the page may not change as it is now. */
  async textOf(values: Values): Promise<string> {
    if (keptBack.some((key) => key in values))
      throw new Refused(
        400,
        'not-here',
        'Notices, notes and the page for customers are not set here.',
        'Set them in the shop’s file itself.',
      );
    const there = valuesOf((await this.textFile())?.text ?? '');
    const kept = Object.fromEntries(keptBack.filter((key) => key in there).map((key) => [key, there[key]]));
    const text = stringify({ ...values, ...kept });
    const problems = this.problemsOf(text);
    if (problems.length > 0) throw new WrongValues('The shop', problems);
    return text;
  }

  /** One at a time; refuses values that were made from another version than is there. */
  save(values: Values, version: string, by: string): Promise<void> {
    const saved = this.writing.then(() => this.replace(values, version, by));
    this.writing = saved.catch(() => undefined);
    return saved;
  }

  private async replace(values: Values, version: string, by: string): Promise<void> {
    const before = (await this.textFile())?.text ?? '';
    if (versionOf(before) !== version)
      throw new Refused(409, 'changed-meanwhile', 'Somebody else changed the shop meanwhile.', 'Look at it again.');
    const text = await this.textOf(values);
    await mkdir(this.historyFolder, { recursive: true, mode: 0o700 });
    // What is replaced is kept as it was, with its comments.
    await writeFile(join(this.historyFolder, `${version}.yaml`), before);
    const unfinished = `${this.path}.part-${process.pid}`;
    const mode = await stat(this.path).then(
      (stats) => stats.mode & 0o777,
      () => 0o644,
    );
    const file = await open(unfinished, 'w', mode);
    try {
      await file.writeFile(text);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, this.path);
    const folder = await open(dirname(this.path), 'r');
    await folder.sync().finally(() => folder.close());
    const change: ShopChange = { at: Date.now(), by, version: versionOf(text) };
    await appendFile(this.changesFile, `${JSON.stringify(change)}\n`);
  }

  private async history(): Promise<ShopChange[]> {
    const text = await readFile(this.changesFile, 'utf8').catch(() => '');
    const lines = text.split('\n').filter((line) => line !== '');
    return lines
      .slice(-200)
      .map((line) => JSON.parse(line) as ShopChange)
      .reverse();
  }

  private get changesFile(): string {
    return join(this.historyFolder, 'changes.jsonl');
  }

  private problemsOf(text: string) {
    try {
      resolveTicket({ shop: { fileName: basename(this.path), text } });
      return [];
    } catch (error) {
      if (error instanceof WrongTicketError) return error.problems;
      throw error;
    }
  }
}

function valuesOf(text: string): Values {
  return (parseTicketText(text).value ?? {}) as Values;
}

function shown(values: Values): Values {
  return Object.fromEntries(Object.entries(values).filter(([key]) => !keptBack.includes(key)));
}

function versionOf(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 32);
}

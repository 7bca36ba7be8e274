import { join } from 'node:path';
import type { TakenIn } from '../jobs/jobTypes.ts';
import { answeredJob, NoSuchJob } from './answeredJob.ts';
import { ChangedWhileCopied } from './copyFile.ts';
import type { DropFiles } from './dropFiles.ts';
import { areUnchanged, lookAtDrop, signatureOf } from './dropFiles.ts';
import type { Drop, DropName } from './dropNames.ts';
import { answerDrops, ownFolder, sortDrops } from './dropNames.ts';
import type { Readiness } from './dropReadiness.ts';
import { readinessOf } from './dropReadiness.ts';
import { isOurFolder } from './folderIdentity.ts';
import { artFor } from './lateTicket.ts';
import { answersFolder, reservedNames } from './outcomes.ts';
import type { Say } from './say.ts';
import { OnceEach } from './say.ts';
import { settleTaken } from './settleTaken.ts';
import type { Settling, SettlingRules } from './settling.ts';
import { firstLook, hasSettled, lookAgain, mayBeTaken } from './settling.ts';
import type { EarlierArt, IntakeTools } from './takeIn.ts';
import { ArtIsGone, takeIn } from './takeIn.ts';

export interface WatchedFolderOptions {
  readonly rules: SettlingRules;
  /** Art is taken only when its marker file is there. */
  readonly markersOnly: boolean;
  readonly folderId: string;
  readonly outcomes: string;
  /** After a failure a drop is left alone for so long. */
  readonly retryMs: number;
}

interface Known {
  settling: Settling;
  readiness: Readiness | null;
  notBeforeMs: number;
  taking: boolean;
  /** Folders of a drop that lies still without any art, which alone are looked at until `untilMs`. */
  parked: { readonly folders: DropFiles['folders']; readonly untilMs: number } | null;
}

export interface Sweep {
  /** The folder itself could be read and is the one it was. */
  readonly there: boolean;
  /** Drops that are not settled, so that the next look should come soon. */
  readonly settling: number;
}

const mostAtOnce = 2;
/** Nothing in a folder without art is waited for, so it is looked at now and then, and into seldom. */
const parkedPauseMs = 5_000;
const parkedMs = 600_000;

/**
 * The watched folder: each sweep lists it anew, so nothing depends on being told of changes. Drops that lie still and
 * are all there are taken in, at most two at a time.
 */
export class WatchedFolder {
  private readonly known = new Map<string, Known>();
  private readonly taking = new Set<Promise<void>>();
  /** Signatures of drops that were taken in but may not be moved away. */
  private readonly left = new Map<string, string>();
  private readonly once: OnceEach;
  private names: readonly DropName[] = [];
  private ownDrops: readonly Drop[] = [];
  private answers: readonly Drop[] = [];
  private readonly tools: IntakeTools;
  private readonly options: WatchedFolderOptions;
  private readonly say: Say;
  private readonly onAccepted: (taken: TakenIn) => void;

  constructor(tools: IntakeTools, options: WatchedFolderOptions, say: Say, onAccepted: (taken: TakenIn) => void) {
    this.tools = tools;
    this.options = options;
    this.say = say;
    this.onAccepted = onAccepted;
    this.once = new OnceEach((line) => say.trouble(line));
  }

  async sweep(): Promise<Sweep> {
    const { root } = this.tools.spool;
    const away = await this.listDrops();
    if (away !== null) {
      this.once.tell('folder', `${root}: ${away} Nothing is lost; I look again until it is back.`);
      return { there: false, settling: 0 };
    }
    if (this.once.settled('folder')) this.say.trouble(`${root}: the folder is back.`);
    const present = new Set<string>();
    let settling = 0;
    for (const drop of [...this.ownDrops, ...this.answers]) {
      const key = keyOf(drop);
      present.add(key);
      if (await this.lookAt(key, drop)) settling += 1;
    }
    for (const [key, { taking }] of this.known) if (!present.has(key) && !taking) this.known.delete(key);
    return { there: true, settling };
  }

  /** Waits for what is being taken in. */
  async idle(): Promise<void> {
    while (this.taking.size > 0) await Promise.all(this.taking);
  }

  /** Lists the folder; answers why it is not there, or null. An empty or other folder in its place is not it. */
  private async listDrops(): Promise<string | null> {
    const { disk, spool } = this.tools;
    try {
      const entries = await disk.list(spool.root);
      if (!entries.some(({ name }) => name === ownFolder) || !(await isOurFolder(disk, spool, this.options.folderId)))
        return 'the folder is empty or another one now: is the share away?';
      const names = entries
        .filter(({ name, kind }) => (kind === 'file' || kind === 'folder') && name !== ownFolder)
        .map(({ name, kind }) => ({ name, isFolder: kind === 'folder' }));
      await this.listAnswers(names);
      const unchanged =
        names.length === this.names.length &&
        names.every(({ name, isFolder }, i) => name === this.names[i].name && isFolder === this.names[i].isFolder);
      if (unchanged) return null;
      this.names = names;
      this.ownDrops = sortDrops(names, reservedNames);
      return null;
    } catch (error) {
      return `the folder cannot be read (${(error as Error).message}).`;
    }
  }

  private async listAnswers(names: readonly DropName[]): Promise<void> {
    const isThere = names.some(({ name, isFolder }) => isFolder && name === answersFolder);
    const { disk, spool } = this.tools;
    const entries = isThere ? await disk.list(join(spool.root, answersFolder)) : [];
    this.answers = answerDrops(
      answersFolder,
      entries.map(({ name, kind }) => ({ name, isFolder: kind === 'folder' })),
    );
  }

  /** One look at one drop; whether it is settling. */
  private async lookAt(key: string, drop: Drop): Promise<boolean> {
    const { disk, spool, clock } = this.tools;
    const nowMs = clock.monotonicMs();
    const before = this.known.get(key);
    if (before !== undefined && (before.taking || nowMs < before.settling.nextLookMs || nowMs < before.notBeforeMs))
      return before.taking;
    let look: DropFiles | null;
    try {
      if (
        before?.parked &&
        nowMs < before.parked.untilMs &&
        (await areUnchanged(disk, spool.root, before.parked.folders))
      ) {
        before.notBeforeMs = nowMs + parkedPauseMs;
        return false;
      }
      look = await lookAtDrop(disk, spool.root, drop);
    } catch (error) {
      this.once.tell(key, `${key}: cannot be looked at (${(error as Error).message}). It stays where it is.`);
      return false;
    }
    if (look === null) {
      this.known.delete(key);
      return true;
    }
    const signature = `${drop.markerName ?? ''} ${signatureOf(look)}`;
    if (this.left.get(key) === signature) return false;
    const settling = before === undefined ? firstLook(signature, nowMs) : lookAgain(before.settling, signature, nowMs);
    const readiness = settling.looks === 1 ? null : (before?.readiness ?? null);
    const known: Known = { settling, readiness, notBeforeMs: 0, taking: false, parked: null };
    this.known.set(key, known);
    await this.consider(key, drop, look, known, nowMs);
    return known.parked === null && known.settling.nextLookMs <= nowMs;
  }

  private async consider(key: string, drop: Drop, look: DropFiles, known: Known, nowMs: number): Promise<void> {
    const { disk, spool } = this.tools;
    const { rules, markersOnly } = this.options;
    const marked = drop.markerName !== null;
    if (!hasSettled(known.settling, drop.art?.isFolder ?? false, marked, rules, nowMs) || (markersOnly && !marked))
      return;
    if (look.tooMany) {
      this.once.tell(key, `${key}: more files than one job can have. Drop each job in a folder of its own.`);
      return;
    }
    if (!look.files.some(({ part }) => part !== 'other')) {
      known.parked = { folders: look.folders, untilMs: nowMs + parkedMs };
      return;
    }
    // A file that could not be opened is tried again; what a format says of the same bytes stays.
    if (known.readiness?.kind !== 'looked') known.readiness = await readinessOf(disk, spool.root, look);
    const { readiness } = known;
    const since = this.since(known.settling.firstSeenMs, nowMs);
    if (readiness.kind === 'locked') {
      if (nowMs - known.settling.stillSinceMs >= rules.unknownStillMs)
        this.once.tell(key, `${key}: ${readiness.file} cannot be opened yet (${readiness.reason}), since ${since}.`);
      return;
    }
    if (!mayBeTaken(known.settling, readiness.worst, marked, rules, nowMs)) {
      if (nowMs - known.settling.stillSinceMs >= rules.unknownStillMs)
        this.once.tell(
          key,
          `${key}: still arriving since ${since}; ${readiness.file ?? 'a file in it'} is not all there yet.`,
        );
      return;
    }
    if (this.taking.size >= mostAtOnce) return;
    known.taking = true;
    const work = this.take(key, drop, look, known).finally(() => {
      known.taking = false;
      this.taking.delete(work);
    });
    this.taking.add(work);
  }

  private async take(key: string, drop: Drop, look: DropFiles, known: Known): Promise<void> {
    const { clock } = this.tools;
    const wait = () => {
      known.notBeforeMs = clock.monotonicMs() + this.options.retryMs;
    };
    try {
      let earlier: EarlierArt | null = null;
      const answered = drop.answerTo === null ? null : await answeredJob(this.tools.store, drop.answerTo);
      if (answered !== null && !look.files.some(({ part }) => part === 'art')) return wait();
      if (answered === null && !look.files.some(({ part }) => part === 'art')) {
        earlier = await artFor(this.tools.store, drop);
        if (earlier === null) return wait();
      }
      const accepted = await takeIn(this.tools, drop, look, earlier, answered);
      this.onAccepted(accepted.taken);
      this.once.settled(key);
      const source = await settleTaken(this.tools, accepted, this.options.outcomes, this.say);
      if (source.kind === 'stuck') this.left.set(key, known.settling.signature);
      else this.known.delete(key);
    } catch (error) {
      if (error instanceof ChangedWhileCopied) {
        this.known.delete(key);
        return;
      }
      wait();
      const what =
        error instanceof ArtIsGone
          ? 'this ticket has no art to go with'
          : error instanceof NoSuchJob
            ? 'nobody knows which job this answers'
            : 'could not be taken in';
      this.once.tell(key, `${key}: ${what} (${(error as Error).message}). It stays where it is and is tried again.`);
    }
  }

  private since(monotonicMs: number, nowMs: number): string {
    const date = new Date(this.tools.clock.date().getTime() - (nowMs - monotonicMs));
    return date.toISOString().slice(0, 19).replace('T', ' ');
  }
}

function keyOf(drop: Drop): string {
  return drop.art?.name ?? drop.ticketName!;
}

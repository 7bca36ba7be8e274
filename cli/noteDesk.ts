import type { NoteDesk, PaperSource } from '../web/server/noteDesk.ts';
import { Refused } from '../web/server/refused.ts';
import type { NoteAsk, NoteFacts } from '../web/shared/notes.ts';
import { mailSender } from './mailServer.ts';
import { languageOf, noteWishOf } from './noteWish.ts';
import type { MadePaper, PaperTask } from './paperTask.ts';
import { type NoteSettings, noteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

/** Papers as the shop's file says now; `make` does the work in another thread. */
export function noteDesk(shopFile: () => string | null, make: (task: PaperTask) => Promise<MadePaper>): NoteDesk {
  const settingsNow = async () => {
    const file = shopFile();
    return file === null ? { settings: {}, folder: '.' } : noteSettings(file);
  };
  const wishOf = (source: PaperSource, ask: NoteAsk, settings: NoteSettings) =>
    noteWishOf({ ...ask, customer: ask.customer ?? source.customer ?? undefined }, settings);
  const done = async <Paper extends MadePaper>(task: PaperTask): Promise<Paper> => {
    const paper = await make(task);
    if (paper !== null && 'refused' in paper) throw new UsageError(paper.refused);
    return paper as Paper;
  };
  return {
    note: (source, ask, pageLanguage) =>
      refused(async () => {
        const { settings, folder } = await settingsNow();
        const wish = wishOf(source, ask, settings);
        const usual = wishOf(source, {}, settings);
        const [made, mail] = await Promise.all([
          done<Extract<MadePaper, { note: unknown }>>({
            ...{ what: 'facts', source, wish, tellsBefore: ask.since !== 'none' },
            pageLanguage: languageOf(pageLanguage),
          }),
          mailFacts(settings, folder),
        ]);
        return {
          ...made,
          mail,
          usual: {
            ...{ language: usual.language, units: usual.units, customer: usual.customer ?? '' },
            answerBy: usual.answerBy?.day ?? null,
          },
        };
      }),
    rendered: (source, ask, format) =>
      refused(async () => {
        const { settings } = await settingsNow();
        const wish = wishOf(source, ask, settings);
        return done<Uint8Array>({
          what: 'note',
          source,
          wish,
          tellsBefore: ask.since !== 'none',
          format,
          to: ask.to,
          settings,
        });
      }),
    workList: (source, ask) =>
      refused(async () => {
        const { settings } = await settingsNow();
        return done<Uint8Array>({ what: 'workList', source, wish: wishOf(source, ask, settings), tellsBefore: false });
      }),
    proof: (source, ask) =>
      refused(async () => {
        const { settings } = await settingsNow();
        return done<Uint8Array | null>({
          what: 'proof',
          source,
          wish: wishOf(source, ask, settings),
          tellsBefore: false,
        });
      }),
    mail: (source, ask, again, link) =>
      refused(async () => {
        const { settings, folder } = await settingsNow();
        // Whatever is wrong with the server's settings is said before anything is queued.
        await mailSender(settings, folder);
        const wish = wishOf(source, ask, settings);
        const task: PaperTask = {
          what: 'mail',
          source,
          wish,
          tellsBefore: ask.since !== 'none',
          to: ask.to,
          settings,
          link,
          again: again === 0 ? '' : `${again}`,
        };
        return done<Extract<MadePaper, { key: string }>>(task);
      }),
  };
}

async function mailFacts(settings: NoteSettings, folder: string): Promise<NoteFacts['mail']> {
  const { mail = {} } = settings;
  const from = mail.from ?? null;
  if (mail.host === undefined && mail.testFolder === undefined) return { state: 'notSet', from, detail: null };
  if (from === null) return { state: 'wrong', from, detail: 'note.mail.from' };
  try {
    const { test } = await mailSender(settings, folder);
    return { state: test ? 'test' : 'ready', from, detail: null };
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return { state: 'wrong', from, detail: error.message };
  }
}

/** What is for the shop, or for whoever gave it, to put right, in words for the page. */
async function refused<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    throw new Refused(422, 'wrong-note', error.message, 'Put it right in the page, or in the shop’s file.');
  }
}

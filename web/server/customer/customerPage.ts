import type { CustomerNote, NoteItem } from '../../../src/fixNotes/customerNote.ts';
import type { NotePicture } from '../../../src/fixNotes/notePicture.ts';
import type { NoteUnits } from '../../../src/fixNotes/noteQuantities.ts';
import { noteLanguages } from '../../../src/fixNotes/words/wordsIn.ts';
import type { CustomerLink } from '../../../src/jobs/customerTypes.ts';
import type { Revision } from '../../../src/jobs/jobTypes.ts';
import { escapeMarkup } from '../../../src/report/shapes.ts';
import { shownText } from '../../../src/report/words.ts';
import { mostCustomerMegabytes } from '../../shared/customer.ts';
import { answerForm, standingAnswer, type Typed } from './answerForm.ts';
import type { CustomerView } from './customerView.ts';
import { proofSection } from './proofSection.ts';
import type { CustomerKey } from './words/en.ts';
import { type CustomerWords, languageNames } from './words/wordsIn.ts';

export interface CustomerPageParts {
  readonly view: CustomerView;
  readonly link: CustomerLink;
  /** Path of the page: "/c/TOKEN". */
  readonly path: string;
  readonly words: CustomerWords;
  readonly units: NoteUnits;
  readonly shop: string;
  /** What a form that could not be taken held, and why. */
  readonly typed?: Typed;
}

/**
 * The whole page of a link. It can be read and answered without its script. Everything that a file, a customer or the
 * shop has named is text; colours of inks are fills of pictures, as the policy allows no styles in the markup.
 */
export function customerPage(parts: CustomerPageParts): string {
  const { view, words, shop, path, link } = parts;
  const { say } = words;
  const { job, revision, checked } = view;
  const title = say('title', { job: textOf(job.jobName) });
  return `<!doctype html>
<html lang="${words.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<title>${escapeMarkup(title)}</title>
<link rel="icon" href="/assets/icon.svg">
<link rel="stylesheet" href="/assets/customer.css">
<script type="module" src="/assets/customer.js"></script>
</head>
<body data-path="${path}" data-mark="${stateMark(revision)}" data-waits="${isWaiting(revision) ? 'yes' : 'no'}">
<main>
<header>
${shop === '' ? '' : `<p class="quiet">${escapeMarkup(shop)}</p>`}
<h1>${escapeMarkup(title)}</h1>
${choices(parts)}
</header>
${checked === null ? notYet(parts) : asks(parts, checked.note, checked.pictures)}
${checked === null ? '' : `${proofSection(parts, checked.proof)}\n${checked.proof === null ? '' : answerSection(parts)}`}
${sendSection(parts)}
<footer><p class="quiet">${escapeMarkup(say('openUntil', { when: words.moment(link.expiresAt) }))}</p></footer>
</main>
</body>
</html>
`;
}

/** Changes when there is something else to be seen. */
export function stateMark({ revision, state, finishedAt }: Revision): string {
  return `${revision}-${state}-${finishedAt ?? 0}`;
}

export function textOf(text: string): string {
  return shownText(text).trim();
}

/** The address of something below the page, in its language and units. */
export function addressOf({ path, words, units }: CustomerPageParts, below = ''): string {
  return escapeMarkup(`${path}${below}?language=${words.language}&units=${units}`);
}

function isWaiting({ state }: Revision): boolean {
  return state === 'waiting' || state === 'working';
}

function choices(parts: CustomerPageParts): string {
  const { words, units, path } = parts;
  const choice = (language: string, of: NoteUnits, name: string, isHere: boolean, lang: string) =>
    `<a href="${escapeMarkup(`${path}?language=${language}&units=${of}`)}"${lang}${isHere ? ' aria-current="true"' : ''}>${escapeMarkup(name)}</a>`;
  const languages = noteLanguages.map((one) =>
    choice(one, units, languageNames[one], one === words.language, ` lang="${one}" hreflang="${one}"`),
  );
  const lengths = (['mm', 'inch'] as const).map((one) =>
    choice(words.language, one, words.say(`units.${one}`), one === units, ''),
  );
  return `<nav class="choices" aria-label="${escapeMarkup(words.say('language'))}">${languages.join(' ')}</nav>
<nav class="choices" aria-label="${escapeMarkup(words.say('units'))}">${lengths.join(' ')}</nav>`;
}

function notYet(parts: CustomerPageParts): string {
  const { view, words } = parts;
  if (!isWaiting(view.revision)) {
    const key: CustomerKey = view.revision.state === 'setAside' ? 'setAside' : 'notChecked';
    return `<section><p role="status">${escapeMarkup(words.say(key))}</p></section>`;
  }
  return `<section><p role="status">${escapeMarkup(words.say('checking'))}</p>
<p><a href="${addressOf(parts)}">${escapeMarkup(words.say('lookAgain'))}</a></p></section>`;
}

function asks(parts: CustomerPageParts, note: CustomerNote, pictures: ReadonlyMap<number, NotePicture>): string {
  const paragraphs = (lines: readonly string[]) => lines.map((line) => `<p>${escapeMarkup(line)}</p>`).join('\n');
  const sections = note.sections.map(
    ({ heading, items }) => `<h3>${escapeMarkup(heading)}</h3>
<ol start="${items[0].number}">
${items.map((item) => itemHtml(parts, item, pictures.get(item.number))).join('\n')}
</ol>`,
  );
  return `<section aria-labelledby="asks">
<h2 id="asks">${escapeMarkup(parts.words.say('asks'))}</h2>
${paragraphs(note.opening)}
${sections.join('\n')}
${paragraphs(note.closing)}
</section>`;
}

function itemHtml(parts: CustomerPageParts, item: NoteItem, picture: NotePicture | undefined): string {
  const { defect, effect, places, request, offer } = item;
  const joined = (texts: readonly string[]) => texts.filter(Boolean).map(escapeMarkup).join(' ');
  const image =
    picture === undefined
      ? ''
      : `\n<img src="${addressOf(parts, `/${parts.view.revision.revision}/${picture.fileName}`)}" width="${picture.widthPx}" height="${picture.heightPx}" alt="${escapeMarkup(picture.alt)}">`;
  return `<li><p><strong>${escapeMarkup(defect)}</strong> ${joined([effect, places])}</p>
<p>${joined([request, offer])}</p>${image}</li>`;
}

function answerSection(parts: CustomerPageParts): string {
  return `<section aria-labelledby="answer">
<h2 id="answer">${escapeMarkup(parts.words.say('answer'))}</h2>
${standingAnswer(parts)}
${answerForm(parts)}
</section>`;
}

/** The form is shown by the script, which alone can send files in pieces. */
function sendSection({ view, words }: CustomerPageParts): string {
  const { say } = words;
  const said = (key: CustomerKey) => `<p>${escapeMarkup(say(key))}</p>`;
  const names = view.revision.files.map(({ name }) => textOf(name)).join(', ');
  const told = Object.fromEntries(sendingKeys.map((key) => [key, say(key, { name: '{name}', percent: '{percent}' })]));
  return `<section aria-labelledby="send">
<h2 id="send">${escapeMarkup(say('send'))}</h2>
<p class="quiet">${escapeMarkup(say('files', { names }))}</p>
${view.revision.files.length > 1 ? said('sendSeveral') : ''}
<p>${escapeMarkup(say('sendHelp', { megabytes: mostCustomerMegabytes }))}</p>
<noscript>${said('noScript')}</noscript>
<form id="send-form" hidden data-words="${escapeMarkup(JSON.stringify(told))}">
<label>${escapeMarkup(say('choose'))}<input type="file" name="files" multiple required></label>
<label>${escapeMarkup(say('name'))}<input name="name" required maxlength="80" autocomplete="name"></label>
<button type="submit">${escapeMarkup(say('sendNow'))}</button>
<progress hidden max="100" aria-label="${escapeMarkup(say('send'))}"></progress>
<p role="status" class="told"></p>
</form>
</section>`;
}

const sendingKeys = [
  'sending.at',
  'sending.done',
  'sending.same',
  'sending.noAnswer',
  'sending.tooLarge',
  'sending.noArt',
  'sending.busy',
  'sending.failed',
] as const satisfies readonly CustomerKey[];

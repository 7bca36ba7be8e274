import { escapeMarkup } from '../../../src/report/shapes.ts';
import { addressOf, type CustomerPageParts, textOf } from './customerPage.ts';
import type { CustomerKey } from './words/en.ts';

/** A form that was not taken: what stood in it, and what is wrong with it. */
export interface Typed {
  readonly name: string;
  readonly remark: string;
  readonly wrong: Extract<CustomerKey, `wrong.${string}`>;
}

/** How the revision shown was answered last; nothing where it was not. */
export function standingAnswer({ view, words }: CustomerPageParts): string {
  const last = view.revision.answers.at(-1);
  if (last === undefined) return '';
  const remark = last.remark === '' ? '' : `\n<blockquote>${escapeMarkup(last.remark)}</blockquote>`;
  const said = words.say(last.kind, { name: textOf(last.name), when: words.moment(last.at) });
  return `<p class="standing" role="status"><strong>${escapeMarkup(said)}</strong></p>${remark}
<p class="quiet">${escapeMarkup(words.say('again'))}</p>`;
}

/** Approve or decline: plain fields, which every browser sends. It names the films it is about by their hash. */
export function answerForm(parts: CustomerPageParts): string {
  const { view, words, typed } = parts;
  const { say } = words;
  const mark = (field: 'name' | 'remark') =>
    typed?.wrong === `wrong.${field}` ? ' aria-invalid="true" aria-describedby="wrong"' : '';
  const last = view.revision.answers.at(-1)?.kind;
  const button = (kind: 'approved' | 'declined', key: 'approve' | 'decline') =>
    `<button type="submit" name="kind" value="${kind}"${kind === 'approved' ? ' class="strong"' : ''}>${escapeMarkup(say(key))}</button>`;
  return `<form id="answer-form" method="post" action="${addressOf(parts, '/answer')}">
${typed === undefined ? '' : `<p id="wrong" class="trouble" role="alert">${escapeMarkup(say(typed.wrong))}</p>`}
<input type="hidden" name="films" value="${escapeMarkup(view.revision.contentKey)}">
<label>${escapeMarkup(say('name'))}<input name="name" required maxlength="80" autocomplete="name" value="${escapeMarkup(typed?.name ?? '')}"${mark('name')}></label>
<label>${escapeMarkup(say('remark'))}<span class="quiet">${escapeMarkup(say('remarkHelp'))}</span><textarea name="remark" rows="4" maxlength="2000"${mark('remark')}>
${escapeMarkup(typed?.remark ?? '')}</textarea></label>
<p class="quiet">${escapeMarkup(say('holdsFor'))}</p>
<div class="row">${last === 'approved' ? '' : button('approved', 'approve')}${button('declined', 'decline')}</div>
</form>`;
}

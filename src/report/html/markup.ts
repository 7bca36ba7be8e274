import { escapeMarkup } from '../shapes.ts';
import { shownText } from '../words.ts';

/** Markup that is ours; anything else put into a page is text and escaped. */
export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  toString(): string {
    return this.text;
  }
}

type Part = string | number | Markup | null | readonly Part[];

/** A template whose values are escaped as text, unless they are markup (or lists of it); null leaves nothing. */
export function html(strings: TemplateStringsArray, ...values: readonly Part[]): Markup {
  let text = strings[0];
  values.forEach((value, index) => {
    text += render(value) + strings[index + 1];
  });
  return new Markup(text);
}

/** Markup made elsewhere, such as a drawing. */
export function raw(text: string): Markup {
  return new Markup(text);
}

/** A name from a file: kept apart so that its writing direction cannot disturb the words around it. */
export function named(text: string): Markup {
  return html`<bdi>${text}</bdi>`;
}

function render(part: Part): string {
  if (part === null) return '';
  if (part instanceof Markup) return part.text;
  if (typeof part === 'string') return escapeMarkup(shownText(part));
  if (typeof part === 'number') return String(part);
  return part.map(render).join('');
}

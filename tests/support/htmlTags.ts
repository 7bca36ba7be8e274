/** An element of a page: its name, attributes as written, and the text directly after its opening tag. */
export interface Tag {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

const voidElements = new Set(['meta', 'img', 'br', 'link', 'input', 'hr', 'path', 'image']);

/**
 * Opening tags of a page in order. Throws when an element is closed that is not open, left open, or when text holds a
 * stray angle bracket; styles are skipped.
 */
export function tagsOf(page: string): Tag[] {
  const body = page.replace(/<style>[\s\S]*?<\/style>/g, '').replace(/^<!doctype html>/i, '');
  const tags: Tag[] = [];
  const open: string[] = [];
  const token = /<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z:-]+(?:="[^"<]*")?)*)\s*(\/?)>|([^<]+)|(<)/g;
  for (const match of body.matchAll(token)) {
    const [, closing, name, attributeText, selfClosing, text, stray] = match;
    if (stray) throw new Error(`Stray bracket near ${body.slice(match.index, match.index + 60)}`);
    if (text !== undefined) {
      if (text.includes('>')) throw new Error(`Stray bracket in ${text.slice(0, 60)}`);
      continue;
    }
    if (closing) {
      const last = open.pop();
      if (last !== name)
        throw new Error(`</${name}> closes <${last}> near ${body.slice(match.index - 80, match.index)}`);
      continue;
    }
    const attributes = Object.fromEntries(
      [...attributeText.matchAll(/([a-zA-Z:-]+)(?:="([^"]*)")?/g)].map(([, key, value]) => [key, value ?? '']),
    );
    tags.push({ name, attributes });
    if (!selfClosing && !voidElements.has(name)) open.push(name);
  }
  if (open.length > 0) throw new Error(`Left open: ${open.join(' ')}`);
  return tags;
}

/** What a reader sees of a page, tags taken away and escapes undone. */
export function textOf(page: string): string {
  return page
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]*>/g, '')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&')
    .replaceAll('\u00a0', ' ');
}

/** Text for one line of a mail that would end the line, or end the text. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that no line of a mail may have.
const notOneLine = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]/;
/** A dot-atom and a host name (RFC 5321, 4.1.2), as everybody uses them; letters of other scripts in neither. */
const address =
  /^[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(?:\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*@[A-Za-z0-9](?:[A-Za-z0-9-]*[A-Za-z0-9])?(?:\.[A-Za-z0-9](?:[A-Za-z0-9-]*[A-Za-z0-9])?)*$/;
const longestAddress = 254;
const longestLine = 900;

/** A mail cannot be made of what it was given; the message says of what, for the one who gave it. */
export class MailRefused extends Error {
  override readonly name = 'MailRefused';
}

export interface MailAddress {
  readonly name: string;
  readonly address: string;
}

/** One address, with a name or without: `films@shop.example`, `Our screen room <films@shop.example>`. */
export function mailAddress(text: string, what: string): MailAddress {
  const line = oneLine(text, what);
  const match = /^\s*(?:"?([^"<>]*?)"?\s*<([^<>]+)>|([^<>\s]+))\s*$/.exec(line);
  const found = match?.[2] ?? match?.[3] ?? '';
  if (!address.test(found) || found.length > longestAddress)
    throw new MailRefused(`${what} takes one mail address, such as films@shop.example.`);
  return { name: match?.[1]?.trim() ?? '', address: found };
}

/** The text, if it can stand on one line; refused, never mended, as somebody may have meant it to be more. */
export function oneLine(text: string, what: string): string {
  if (notOneLine.test(text)) throw new MailRefused(`${what} has a line break or a control character in it.`);
  if (text.length > longestLine) throw new MailRefused(`${what} is longer than ${longestLine} characters.`);
  return text;
}

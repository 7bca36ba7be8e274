/** Names from files may hold control characters; a terminal must not obey them. */
export function plainText(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out.
  return text.replace(/[\u0000-\u001f\u007f-\u009f]/g, ' ');
}

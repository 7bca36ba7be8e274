/** What the customer knows nothing of, and can do nothing about. */
const withinTheShop = /\b(?:tickets?|mesh(?:es)?|press|shop|plates?|limits?|plan)\b/i;

/**
 * Advice for what no check's own code covers: a reading in doubt, or a part that could not be measured. The customer is
 * told only reasons that lie in the file.
 */
export function openAdvice(reasons: readonly string[]): { readonly customer: string; readonly printer: string } {
  const because = [...new Set(reasons)].join(' ') || 'Part of the file could not be drawn.';
  const inFile = [...new Set(reasons)].filter((reason) => !withinTheShop.test(reason)).join(' ');
  const opening =
    inFile === '' ? 'We could not settle this from the file alone.' : `We could not settle this: ${inFile}`;
  return {
    customer: `${opening} Please tell us if it is as you want it, or send the original vector file.`,
    printer: `Not settled: ${because} Look at this by eye or under the loupe before the film is exposed.`,
  };
}

/** Advice for what no check's own code covers: a reading in doubt, or a part that could not be measured. */
export function openAdvice(reasons: readonly string[]): { readonly customer: string; readonly printer: string } {
  const because = [...new Set(reasons)].join(' ') || 'Part of the file could not be drawn.';
  return {
    customer: `We could not settle this: ${because} Please tell us if it is as you want it, or send the original vector file.`,
    printer: `Not settled: ${because} Look at this by eye or under the loupe before the film is exposed.`,
  };
}

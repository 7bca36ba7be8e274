/** Advice for what no check's own code covers: a reading in doubt, or a part that could not be measured. */
export function openAdvice(reasons: readonly string[]): { readonly customer: string; readonly printer: string } {
  const because = [...new Set(reasons)].join(' ') || 'Part of the file could not be drawn.';
  return {
    customer: `We could not be certain here. ${because} Please send the original vector file with type and effects turned into plain outlines, or tell us it is as you want it.`,
    printer: `Not settled: ${because} Compare this part with the art by eye, or measure the film under the loupe, before it is exposed.`,
  };
}

/** Coarser structures of one tint are artwork. */
export const patternBelowLpi = 18;
/** No tone is made of cells of a quarter of a centimetre. */
export const alwaysPatternLpi = 10;

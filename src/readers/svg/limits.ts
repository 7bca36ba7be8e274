/** Named limits against hostile or broken files. Each ends in `UnreadableFilmError` of code `too-complex` or `too-large`. */
export const maxSourceBytes = 200_000_000;
/** Characters of the file after unpacking, decoding and replacing its entities. */
export const maxCharacters = 50_000_000;
export const maxDepth = 1000;
export const maxElements = 1_000_000;
/** Instances made by `use`, markers and patterns together. */
export const maxUses = 200_000;
/** Tiles one pattern fill may be expanded to; beyond it the paint is not drawn and noted. */
export const maxPatternTiles = 20_000;
/** Tiles of all patterns together, beyond which the next one is not drawn and noted. */
export const maxTilesTogether = 60_000;
/** Painted fills and strokes; each needs a colour of its own in the visibility pass. */
export const maxLeaves = 500_000;
/** Pixels of one embedded picture that may become an ink. */
export const maxImagePixels = 30_000_000;

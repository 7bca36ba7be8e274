/** Where a plate is cut into printing and clear. */
export const halfTone = 127.5;
/** The tones between which that place is open: 40 and 60 %. An edge is known no better than where it crosses these. */
export const fromTone = 102;
export const toTone = 153;
/** Foot and head of an edge: a tenth of full tone, and nine tenths. */
export const footTone = 25.5;
export const headTone = 229.5;
/** The smoothing of a renderer spreads an edge over no more pixels. */
export const smoothedPx = 1.6;
/** What taking tones between pixels leaves of an error, in pixels, on both edges together. */
export const leftOpenPx = 0.1;

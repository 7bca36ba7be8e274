import type { TextStyle } from './typeset.ts';

/** The few sizes of type of the printed report, points. */
export const body: TextStyle = { size: 9.5, leading: 12.8 };
export const small: TextStyle = { size: 8.2, leading: 10.8 };
export const tiny: TextStyle = { size: 7.2, leading: 9.6 };
export const claim: TextStyle = { size: 11.5, leading: 14.5 };
export const section: TextStyle = { size: 15, leading: 19 };
export const job: TextStyle = { size: 13, leading: 17 };
export const verdict: TextStyle = { size: 28, leading: 32 };

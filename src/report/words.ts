import type { Verdict } from '../findings/outcome.ts';

/** Verdicts as people read them; machine values stay as they are. */
export const verdictWords: Readonly<Record<Verdict, string>> = {
  pass: 'Ready to film',
  needsReview: 'Look first',
  fail: 'Not ready',
  couldNotRun: 'Not checked',
};

/** Over why there is no verdict: at the front, and over the reason itself. */
export function errorHeadings(code: string): { readonly front: string; readonly section: string } {
  return code === 'not-checked'
    ? { front: 'The job could not be checked', section: 'Why it was not checked' }
    : { front: 'A film could not be opened', section: 'What could not be opened' };
}

/** What a person would do about a finding, in the order of the working day. */
export type Remedy = 'files' | 'inks' | 'detail' | 'overlap' | 'tone' | 'opacity' | 'register' | 'press' | 'other';

export const remedyWords: Readonly<Record<Remedy, string>> = {
  files: 'Ask for better files',
  inks: 'Settle the inks',
  detail: 'Make fine parts sturdier, or choose a finer mesh',
  overlap: 'Spread, choke or close up',
  tone: 'Change the halftone',
  opacity: 'Output the film again, blacker',
  register: 'Output the films again so that they fit each other',
  press: 'Change the set-up on the press',
  other: 'Decide',
};

/** Over what waits on something that could not be drawn. */
export const waitingHeading = 'Settle what could not be drawn';

const remedies: Readonly<Record<string, Remedy>> = {
  'extra-ink': 'inks',
  'near-duplicate-ink': 'inks',
  'unnamed-ink': 'inks',
  'unused-ink': 'inks',
  'ink-not-on-ticket': 'inks',
  'ink-missing-from-art': 'inks',
  'oversize-art': 'files',
  'unequal-films': 'files',
  'unknown-scale': 'files',
  'coarse-image': 'files',
  'live-type': 'files',
  'hidden-object': 'files',
  'reversed-polarity': 'files',
  'mirrored-film': 'files',
  'overprint-hazard': 'files',
  'white-overprint': 'files',
  'semi-opaque-positive': 'opacity',
  'low-optical-density': 'opacity',
  'hazy-film': 'opacity',
  pinhole: 'opacity',
  'uneven-black': 'opacity',
  'thin-line': 'detail',
  'thin-gap': 'detail',
  'small-dot': 'detail',
  'lost-island': 'detail',
  'small-type': 'detail',
  'coarse-mesh-for-ruling': 'tone',
  'tone-out-of-range': 'tone',
  'mesh-moire': 'tone',
  'angle-clash': 'tone',
  'soft-dot': 'tone',
  'missing-registration-mark': 'register',
  'marks-disagree': 'register',
  'misaligned-film': 'register',
  'scaled-film': 'register',
  'short-trap': 'overlap',
  'open-gap': 'overlap',
  'butt-joint': 'overlap',
  'underbase-peek': 'overlap',
  'underbase-missing': 'overlap',
  'wide-trap': 'overlap',
  'too-many-stations': 'press',
  'platen-overrun': 'press',
  'print-order': 'press',
  'heavy-stack': 'press',
};

/** What one would do about a finding of this check. */
export function remedyOf(checkId: string): Remedy {
  return remedies[checkId] ?? 'other';
}

/** Control characters, line separators and marks that turn the writing direction round. */
const unshown = /[\p{Cc}\p{Bidi_Control}\u2028\u2029]/gu;

/** Text from a file as it may be shown: no control characters, nothing that turns the writing direction round. */
export function shownText(text: string): string {
  return text.replace(/[\t\n\r]+/g, ' ').replace(unshown, '');
}

/** `Coral`, `Coral and Night`, `Coral, Lagoon and 5 more`: at most so many names. */
export function listedShort(names: readonly string[], most: number): string {
  const left = names.length - most;
  const words = left > 1 ? [...names.slice(0, most), `${left} more`] : [...names];
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

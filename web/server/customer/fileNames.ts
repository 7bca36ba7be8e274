import { baseNameOf, endingOf } from '../../../src/artwork/jobFileNames.ts';
import { shownText } from '../../../src/report/words.ts';
import { Refused } from '../refused.ts';

/** What a customer may send; what is in a file is looked at by the process that checks it, never here. */
const endings = new Set([
  '.pdf',
  '.svg',
  '.tif',
  '.tiff',
  '.png',
  '.jpg',
  '.jpeg',
  '.webp',
  '.psd',
  '.eps',
  '.ps',
  '.ai',
  '.zip',
]);
const longestName = 100;

/** A name as files of a job have, made of whatever a customer's file is called: no folders, no dots before it, no signs. */
export function safeFileName(name: string): string {
  const last = shownText(name.normalize('NFC')).split(/[\\/]/).at(-1)!.trim();
  const ending = endingOf(last);
  if (!endings.has(ending))
    throw new Refused(400, 'no-art', 'A file of this kind cannot be checked.', 'Send a PDF or another film.');
  const base = baseNameOf(last)
    .replace(/[<>:"|?*%&'`$;!#{}[\]^~=+]+/g, '_')
    .replace(/^[.\s~-]+/, '')
    .trim();
  return `${[...base].slice(0, longestName).join('').trim() || 'film'}${ending}`;
}

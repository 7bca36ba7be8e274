import type { ArtChange } from '../revisions/artChange.ts';
import { type ItemWords, sentenceOf } from './itemWords.ts';
import { lengthIn, type NoteUnits, quantityIn } from './noteQuantities.ts';
import type { NoteWords } from './words/wordsIn.ts';

/** A shift of less than this share of the other is not worth a word. */
const worthSaying = 0.1;

/** How far things moved is known to a tenth of a millimetre. */
const decimals = 1;

/** One change that nobody asked for, as a question. */
export function changeWords(words: NoteWords, units: NoteUnits, change: ArtChange): ItemWords {
  const { kind, box, wasBox, tonePercent } = change;
  const sizeOf = (one: ArtChange['wasBox'] | null) =>
    one == null ? '' : `${roughly(words, units, one.widthMm)} × ${roughly(words, units, one.heightMm)}`;
  const tone = (percent: number | undefined) =>
    percent === undefined ? 'none' : quantityIn(words, units, percent, 'percent');
  return {
    defect: sentenceOf(
      words.change(kind, {
        inks: words.list(change.inkNames.map(words.ink)),
        was: words.ink(change.wasInkName ?? ''),
        size: sizeOf(box),
        wasSize: sizeOf(wasBox),
        far: farWords(words, units, change),
        by: change.byMm === undefined ? '' : roughly(words, units, change.byMm),
        tone: tone(tonePercent?.now),
        wasTone: tone(tonePercent?.before),
      }),
    ),
    effect: '',
    request: words.change('request'),
    offer: words.change('offer'),
  };
}

/** `1.0 mm to the right and 0.4 mm down`. */
function farWords(words: NoteWords, units: NoteUnits, { movedMm }: ArtChange): string {
  if (movedMm === undefined) return '';
  const { x, y } = movedMm;
  const say = (mm: number, more: 'right' | 'down', less: 'left' | 'up', other: number) =>
    Math.abs(mm) <= worthSaying * Math.abs(other)
      ? []
      : [words.change(mm > 0 ? more : less, { value: roughly(words, units, Math.abs(mm)) })];
  return words.list([...say(x, 'right', 'left', y), ...say(y, 'down', 'up', x)]);
}

function roughly(words: NoteWords, units: NoteUnits, mm: number): string {
  return lengthIn(words, units, mm, 'nearest', decimals);
}

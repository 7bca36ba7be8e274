/** Words on inks, files and opacity; see en.ts for the values. */
export const enFiles = {
  'extra-ink': {
    effect: 'Each extra ink means one more film, one more screen and one more pass.',
    settled: 'The number of inks fits now.',
    offer: 'merge',
    codes: {
      'more-than-allowed': [
        'The design uses {number, plural, one {# ink} other {# inks}} ({inks}); this job allows {most}.',
        'Please tell us which of them can be merged with another.',
      ],
    },
  },
  'near-duplicate-ink': {
    effect: 'As they stand they would be printed as two inks, with two films.',
    settled: 'The inks are clearly told apart now.',
    offer: 'merge',
    codes: {
      'same-ink-twice': ['{ink} and {other} are one ink under two names.', 'Please confirm that it is one ink.'],
      'same-name': [
        '{ink} and {other} have the same name, but not the same colour in the file.',
        'Please tell us whether it is one ink, and which colour is right.',
      ],
      'similar-colour': [
        '{ink} and {other} are almost the same colour.',
        'Please tell us whether you need both, or one is enough.',
      ],
    },
  },
  'unnamed-ink': {
    effect: 'Without a name we cannot tell which ink to mix.',
    settled: 'Each colour has its ink name now.',
    offer: 'merge',
    codes: {
      'colour-without-name': [
        '{inks} {many, plural, one {has} other {have}} no ink name.',
        'Please tell us which ink you want for {many, plural, one {it} other {each}}.',
      ],
    },
  },
  'unused-ink': {
    effect: 'Nothing would print in this ink.',
    settled: 'Each ink that is listed is used now.',
    offer: 'leaveOut',
    codes: {
      'blank-film': ['The film for {inks} is empty.', 'Please look whether something was left out of the export.'],
      'never-painted': ['The file lists {inks} but uses it nowhere.', 'Please tell us whether something is missing.'],
    },
  },
  'ink-not-on-ticket': {
    effect: 'It would print as an ink that was not ordered.',
    settled: 'The inks are those that were ordered.',
    offer: 'merge',
    codes: {
      'not-listed': [
        'The art has {inks}, which is not among the inks ordered.',
        'Please tell us whether it is an extra ink, or one of those ordered under another name.',
      ],
    },
  },
  'ink-missing-from-art': {
    effect: 'This ink would be missing from the print.',
    settled: 'The missing ink is there now.',
    offer: 'leaveOut',
    codes: {
      'not-in-the-art': ['{inks} was ordered, but the art has nothing in it.', 'Please send the missing part.'],
    },
  },
  'oversize-art': {
    effect: 'It would print larger than ordered; reduced, its fine lines shrink too.',
    settled: 'The size fits now.',
    offer: 'change',
    codes: {
      'larger-than-ordered': [
        'The art is {value} larger than the print ordered.',
        'Please tell us whether you want it smaller, or a larger print.',
      ],
      'close-to-limit': [
        'The art is about {value} larger than ordered.',
        'Please tell us whether that is as you want it.',
      ],
    },
  },
  'unequal-films': {
    effect: 'Films of different sizes cannot be laid on each other, so the inks would not fit.',
    settled: 'All films have one size now.',
    offer: 'asIs',
    codes: {
      'sizes-differ': ['The films differ by {value} in size.', 'Please export all of them from one page, at one size.'],
    },
  },
  'unknown-scale': {
    effect: 'It could print at any size.',
    settled: 'The size of the print is clear now.',
    offer: 'asIs',
    codes: {
      'size-not-stated': ['The file does not say how large it prints.', 'Please tell us the width of the print.'],
    },
  },
  'coarse-image': {
    effect: 'Enlarged to this size, a picture shows steps and looks soft.',
    settled: 'The picture is sharp enough now.',
    offer: 'asIs',
    codes: {
      'too-coarse': [
        '{count, plural, one {A picture has {value}} other {# pictures have as few as {value}}} at print size.',
        'Please send the original with {limit} or more, or the vector file.',
      ],
    },
  },
  'live-type': {
    effect: 'Without its font, type prints in another one and may run differently.',
    settled: 'The type is safe now.',
    offer: 'asIs',
    codes: {
      'font-replaced': [
        '{count, plural, one {A text} other {# texts}} came without the font.',
        'Please turn type into outlines, or attach the fonts.',
      ],
      'font-not-embedded': [
        '{count, plural, one {A text} other {# texts}} came without the font, so that what prints is not certain.',
        'Please turn type into outlines, or attach the fonts.',
      ],
    },
  },
  'hidden-object': {
    effect: 'It will not be seen on the print.',
    settled: 'Nothing in the file is hidden any more.',
    offer: 'leaveOut',
    codes: {
      'unseen-object': [
        '{count, plural, one {One object} other {# objects}} in the file will not be seen.',
        'Please tell us whether something is missing.',
      ],
      'layer-switched-off': [
        '{count, plural, one {One object lies} other {# objects lie}} on a layer that is switched off.',
        'Please tell us whether {count, plural, one {it} other {they}} should print.',
      ],
      'white-on-clear': [
        '{count, plural, one {One white object lies} other {# white objects lie}} on empty ground.',
        'Please tell us whether you meant white ink there.',
      ],
    },
  },
  'reversed-polarity': {
    effect: 'Reversed, the ground would print and the art would stay bare.',
    settled: 'The films are the right way black and clear now.',
    offer: 'asIs',
    codes: {
      'looks-like-a-negative': [
        'The film for {inks} is {value} black and so is its border: it looks reversed.',
        'Please export it with black where the ink goes.',
      ],
      'inked-to-the-edges': [
        '{inks} fills {value} of the film, out to its edges.',
        'Please tell us whether that is the print you want, or the film is reversed.',
      ],
    },
  },
  'mirrored-film': {
    effect: 'Type would print reversed if it is not turned round.',
    settled: 'The films read the right way round now.',
    offer: 'asIs',
    codes: {
      'says-it-is-mirrored': [
        'A film is stored as a mirror image; we read it the right way round.',
        'Please tell us that its type is not reversed, or export it again without turning it.',
      ],
    },
  },
  'overprint-hazard': {
    effect: 'Ink printed over another changes colour or is not seen.',
    settled: 'No ink prints over another by mistake any more.',
    offer: 'change',
    codes: {
      'light-over-dark': [
        '{count, plural, one {One object} other {# objects}} in {ink} would print over {other} and may not be seen there.',
        'Please tell us whether that is intended.',
      ],
      'colours-mix': [
        '{count, plural, one {One object is} other {# objects are}} set to print {ink} over {other}.',
        'Please tell us whether that is intended.',
      ],
    },
  },
  'white-overprint': {
    effect: 'White that is set to print over what lies below vanishes.',
    settled: 'The white shows now.',
    offer: 'change',
    codes: {
      'white-vanishes': [
        '{count, plural, one {One white object will} other {# white objects will}} vanish.',
        'Please switch overprint off for white.',
      ],
      'white-may-vanish': [
        '{count, plural, one {One white object may} other {# white objects may}} vanish.',
        'Please switch overprint off for white.',
      ],
    },
  },
  'semi-opaque-positive': {
    effect: 'A film must be black or clear: grey hardens the stencil halfway and prints unevenly.',
    settled: '{inks} is black where it prints now.',
    offer: 'change',
    codes: {
      'grey-areas': [
        '{value} of the film for {inks} is grey.',
        'Please use solid ink there, or tell us to make it dots.',
      ],
      'nowhere-black': ['{inks} is drawn at {value} at most.', 'Please set it to 100 % of its ink.'],
    },
  },
  pinhole: {
    effect: 'A speck in a solid can leave a spot without ink.',
    settled: 'The specks in {inks} are settled.',
    offer: 'change',
    codes: {
      'speck-that-holds': [
        '{count, plural, one {There is a clear speck} other {There are # clear specks}} in the solid of {inks}, up to {value}.',
        'Please tell us whether {count, plural, one {it is} other {they are}} meant.',
      ],
      'close-to-limit': [
        'The solid of {inks} has a clear speck of about {value}.',
        'Please tell us whether it is meant.',
      ],
    },
  },
} as const;

/** Words on details, tones, register, overlaps and the press; see en.ts for the values. */
export const enPrint = {
  'thin-line': {
    effect: 'Lines this thin fall between the threads of the mesh and break up.',
    settled: 'The lines in {inks} are wide enough now.',
    offer: 'change',
    codes: {
      'breaks-up': [
        '{count, plural, one {A line in {inks} is {value} wide} other {# lines in {inks} are too thin, the thinnest {value}}}.',
        'Please thicken {count, plural, one {it} other {them}} to at least {limit}.',
      ],
      'close-to-limit': [
        'A line in {inks} is about {value} wide, at the edge of what prints.',
        'Please thicken it to {safe} to be safe, or send the vector file.',
      ],
      'tapers-away': [
        'Points in {inks} thin out and will end up to {value} short.',
        'If they must be that long, please make their tips blunter.',
      ],
    },
  },
  'thin-gap': {
    effect: 'Gaps this narrow fill with ink and close.',
    settled: 'The gaps in {inks} are wide enough now.',
    offer: 'change',
    codes: {
      'fills-in': [
        '{count, plural, one {A gap in {inks} is {value} wide} other {# gaps in {inks} are too narrow, the narrowest {value}}}.',
        'Please open {count, plural, one {it} other {them}} to at least {limit}.',
      ],
      'close-to-limit': [
        'A gap in {inks} is about {value} wide, at the edge of what stays open.',
        'Please open it to {safe} to be safe, or send the vector file.',
      ],
      'closes-to-a-point': [
        'Narrow points of bare shirt in {inks} close to nothing over up to {value}.',
        'If they must stay open, please cut them off blunt.',
      ],
    },
  },
  'small-dot': {
    effect: 'Dots this small find too little hold on the mesh and print patchily or not at all.',
    settled: 'The dots in {inks} are large enough now.',
    offer: 'change',
    codes: {
      'washes-out': [
        '{count, plural, one {A dot in {inks} is {value} across} other {# dots in {inks} are too small, the smallest {value}}}.',
        'Please enlarge {count, plural, one {it} other {them}} to at least {limit}.',
      ],
      'scattered-too-fine': [
        'The tones in {inks} are made of scattered dots of {value}.',
        'Please output them with dots of at least {limit}.',
      ],
      'close-to-limit': [
        'A dot in {inks} is about {value} across, at the edge of what prints.',
        'Please enlarge it to {safe} to be safe, or send the vector file.',
      ],
    },
  },
  'lost-island': {
    effect: 'Holes this small close up with ink.',
    settled: 'The small holes in {inks} will stay open now.',
    offer: 'change',
    codes: {
      'washes-off': [
        '{count, plural, one {A hole in {inks} is {value} across} other {# holes in {inks} are too small, the smallest {value}}}.',
        'Please open {count, plural, one {it} other {them}} to at least {limit}, or fill {count, plural, one {it} other {them}}.',
      ],
      'close-to-limit': [
        'A hole in {inks} is about {value} across, at the edge of what stays open.',
        'Please open it to {safe} to be safe, or send the vector file.',
      ],
    },
  },
  'small-type': {
    effect: 'Type this small does not stay readable on cloth.',
    settled: 'The small type in {inks} is settled.',
    offer: 'change',
    codes: {
      'too-small-to-read': [
        '{count, plural, one {A text in {inks} is {value}} other {# texts in {inks} are too small, the smallest {value}}}.',
        'Please enlarge {count, plural, one {it} other {them}} to {limit}, or drop {count, plural, one {it} other {them}}.',
      ],
    },
  },
  'coarse-mesh-for-ruling': {
    effect: 'A halftone this fine prints grainy on this mesh.',
    settled: 'The halftone in {inks} fits the garment now.',
    offer: 'change',
    codes: {
      'too-coarse': [
        'The halftone in {inks} is too fine for this garment.',
        'Please output it with fewer lines an inch.',
      ],
      coarse: [
        'The halftone in {inks} is fine for this garment.',
        'Please output it with fewer lines an inch to be safe.',
      ],
    },
  },
  'tone-out-of-range': {
    effect: 'The lightest tones are lost and the darkest fill in.',
    settled: 'The tones in {inks} will hold now.',
    offer: 'change',
    codes: {
      'lights-lost': [
        '{value} of the halftone in {inks} is too light to print.',
        'Please make these tones darker, or take them out.',
      ],
      'darks-filled': [
        '{value} of the halftone in {inks} is so dark that it fills in.',
        'Please make these tones lighter, or solid.',
      ],
      'close-to-limit': [
        'Some of the halftone in {inks} is at the edge of what prints.',
        'Please tell us whether it may be lost or fill in.',
      ],
    },
  },
  'mesh-moire': {
    effect: 'A halftone that beats with the threads shows bands, by estimate.',
    settled: 'The halftone in {inks} should show no bands now.',
    offer: 'change',
    codes: {
      'seen-plainly': ['The halftone in {inks} will show bands.', 'Please output it at another ruling or angle.'],
      'may-be-seen': [
        'The halftone in {inks} may show bands.',
        'To be safe, please output it at another ruling or angle.',
      ],
    },
  },
  'angle-clash': {
    effect: 'Halftones at like angles show a pattern where they print on each other.',
    settled: 'The angles of the halftones fit now.',
    offer: 'change',
    codes: {
      clash: ['The halftones in {inks} stand only {value} apart.', 'Please output them at angles {limit} apart.'],
      'close-to-limit': [
        'The halftones in {inks} stand about {value} apart, at the edge of what shows no pattern.',
        'Please output them at angles {limit} apart to be safe.',
      ],
    },
  },
  'soft-dot': {
    effect: 'Soft, grey dots do not make a clean stencil and print unevenly.',
    settled: 'The dots in {inks} are sharp now.',
    offer: 'change',
    codes: {
      soft: [
        '{value} of the dots in {inks} have soft, grey edges.',
        'Please send the halftone in pure black and white at the resolution of the film.',
      ],
    },
  },
  'missing-registration-mark': {
    effect: 'Without common marks the films are fitted by eye, and the inks may not meet.',
    settled: 'The registration marks are there now.',
    offer: 'add',
    codes: {
      'lacks-marks': [
        'The film for {inks} lacks {count, plural, one {a registration mark} other {# registration marks}} that the other films have.',
        'Please put the same registration marks on every film.',
      ],
      'no-marks': [
        'No film has registration marks.',
        'Please put the same {most, plural, one {mark} other {# marks}} on every film.',
      ],
      'unmatched-marks': [
        'The films have registration marks, but not at the same place on each.',
        'Please export all films from one page with one set of marks.',
      ],
      'few-marks': [
        'The films have {number, plural, one {# registration mark} other {# registration marks}} and need {most}.',
        'Please add the missing ones to every film.',
      ],
    },
  },
  'marks-disagree': {
    effect: 'Fitted by these marks, the inks do not meet.',
    settled: 'The registration marks fit each other now.',
    offer: 'asIs',
    codes: {
      'marks-apart': [
        'The marks on the film for {inks} lie {value} away from those of the others.',
        'Please output all films in one go from one page.',
      ],
      'mark-moved': ['One mark on the film for {inks} was moved.', 'Please put it back and output the film again.'],
      'art-off-marks': [
        'On the film for {inks} the art lies {value} from where its marks put it.',
        'Please tell us whether the art was moved after the marks were added.',
      ],
      'close-to-limit': [
        'The marks on the film for {inks} may lie {value} away from the others.',
        'Please tell us whether all films were output in one go.',
      ],
    },
  },
  'misaligned-film': {
    effect: 'The inks of films that lie apart do not meet.',
    settled: 'The films lie on each other now.',
    offer: 'change',
    codes: {
      shifted: ['The film for {inks} sits {value} off.', 'Please output all films from one page without moving any.'],
      turned: [
        'The film for {inks} is turned, by up to {value}.',
        'Please output all films in one go on the same machine.',
      ],
      'close-to-limit': [
        'The film for {inks} may sit {value} off.',
        'Please tell us whether all films were output in one go.',
      ],
    },
  },
  'scaled-film': {
    effect: 'A film of another scale cannot be fitted to the others.',
    settled: 'The films have one scale now.',
    offer: 'asIs',
    codes: {
      stretched: [
        'The film for {inks} is {value} off in scale.',
        'Please output all films in one session on the same machine, at 100 %.',
      ],
      'close-to-limit': [
        'The film for {inks} may be {value} off in scale.',
        'Please tell us whether all films were output in one session, at 100 %.',
      ],
    },
  },
  'short-trap': {
    effect: 'The slightest shift on press shows a thin line of shirt between the inks.',
    settled: '{ink} and {other} overlap enough now.',
    offer: 'change',
    codes: {
      'overlap-too-small': [
        'Where {ink} meets {other} the overlap is {value}.',
        'Please widen it to {limit}; edges move by less than a hair.',
      ],
      'close-to-limit': [
        'Where {ink} meets {other} the overlap is about {value}.',
        'Please widen it to {limit} to be safe.',
      ],
    },
  },
  'open-gap': {
    effect: 'The shirt shows between the inks.',
    settled: 'The gap between {ink} and {other} is settled.',
    offer: 'change',
    codes: {
      'shirt-shows-through': [
        'Between {ink} and {other} there is a gap of {value}.',
        'Please close it with a small overlap.',
      ],
      'wide-gap': [
        'Between {ink} and {other} there is a gap of {value}.',
        'Please tell us whether it is meant as a line of bare shirt.',
      ],
      'close-to-limit': [
        'Between {ink} and {other} there may be a hairline gap.',
        'Please close it with a small overlap, or send the vector file.',
      ],
    },
  },
  'butt-joint': {
    effect: 'The slightest shift on press shows the shirt between them.',
    settled: '{ink} and {other} overlap now.',
    offer: 'add',
    codes: {
      'edges-butt': ['{ink} and {other} butt edge to edge.', 'Please add a small overlap.'],
      'edges-may-butt': ['{ink} and {other} may touch edge to edge.', 'Please add a small overlap.'],
    },
  },
  'underbase-peek': {
    effect: 'The base shows as a rim around your colours.',
    settled: 'The {ink} stays hidden under your colours now.',
    offer: 'change',
    codes: {
      'base-peeks-out': [
        'The {ink} under your colours would peek out by {value}.',
        'Please pull it in by {limit}; very fine parts then sit straight on the shirt and look darker.',
      ],
      'choke-too-small': [
        'The {ink} under your colours is only {value} inside their edge.',
        'Please pull it in to {limit}.',
      ],
      'close-to-limit': [
        'The {ink} under your colours is about {value} inside their edge.',
        'Please pull it in to {limit} to be safe.',
      ],
    },
  },
  'underbase-missing': {
    effect: 'Straight on a dark shirt, colours look dull and darker.',
    settled: 'The white beneath your colours is settled.',
    offer: 'add',
    codes: {
      'no-base': [
        'On this dark shirt {inks} {many, plural, one {has} other {have}} no white beneath.',
        'Please add a white base; it counts as one more ink.',
      ],
      'part-without-base': ['{value} of {inks} has no white beneath.', 'Please extend the white.'],
      'detail-without-base': [
        'Fine parts of {inks} have no white beneath.',
        'Please tell us whether they may look a little darker.',
      ],
    },
  },
  'wide-trap': {
    effect: 'An overlap this wide shows as a darker line.',
    settled: 'The overlap of {ink} and {other} is settled.',
    offer: 'change',
    codes: {
      'overlap-shows': ['Where {ink} meets {other} they overlap by {value}.', 'Please narrow it to {limit}.'],
      'close-to-limit': [
        'Where {ink} meets {other} they overlap by about {value}.',
        'Please tell us whether a darker line is all right there.',
      ],
    },
  },
  'too-many-stations': {
    effect: 'It cannot be printed in one go on this press.',
    settled: 'The design fits on the press now.',
    offer: 'merge',
    codes: {
      'press-too-small': [
        'The design needs {number, plural, one {# step} other {# steps}} on the press, and the press has {most}.',
        'Please tell us whether two inks could become one.',
      ],
    },
  },
  'platen-overrun': {
    effect: 'Art at the edge of the print board prints unevenly or not at all.',
    settled: 'The art fits on the print board now.',
    offer: 'change',
    codes: {
      'runs-off-the-platen': [
        'The art needs {short} more room on every side of the print board.',
        'Please tell us whether it may be reduced.',
      ],
      'tight-margin': [
        'The art leaves only {value} of print board at its edge; we like {limit}.',
        'Please tell us whether it may be reduced a little.',
      ],
    },
  },
  'print-order': {
    effect: 'The order of printing changes how colours cover each other.',
    settled: 'The order of printing is settled.',
    offer: 'change',
    codes: {
      'base-not-first': ['The order lists {ink} before the base {other}.', 'Please tell us if you need it so.'],
      'key-not-last': ['The order lists {ink} before {other}.', 'Please tell us if you need it so.'],
      'highlight-not-last': [
        'The order lists the highlight {ink} before {other}.',
        'Please tell us if you need it so.',
      ],
      'dark-before-light': ['The order lists {ink} before the lighter {other}.', 'Please tell us if you need it so.'],
    },
  },
  'heavy-stack': {
    effect: 'The print will feel stiff.',
    settled: 'The amount of ink is settled.',
    offer: 'change',
    codes: {
      'heavy-solid': [
        'Added up, the inks cover {value} of the film.',
        'Please tell us whether the shirt may show through in places.',
      ],
    },
  },
} as const;

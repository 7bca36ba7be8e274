import { enFiles } from './enFiles.ts';
import { enPrint } from './enPrint.ts';

/**
 * Messages in ICU message format, for the customer: of each check what it does to the print and what the shop can offer,
 * of each code the defect and the request. Values: {inks} all inks and {many} their number, {ink} and {other} the first two, {value} and {limit}
 * the reading and what it is held against, {safe} the limit with the error bar, {short} what is missing; {number} and
 * {most} the same as bare numbers; {count} how many places. Lengths come with their unit.
 */
export const en = {
  frame: {
    subject: 'Your artwork {job}: {count, plural, =0 {nothing is needed} one {one question} other {# questions}}',
    greeting: 'Hello{customer, select, none {} other { {customer}}},',
    opening:
      'Thank you for your artwork. Before making any film we looked at {files, plural, one {your file} other {your # files}} ({size}).',
    ready: 'It is ready to film. Nothing is needed from you.',
    nothing: 'Nothing is needed from you so far; we settle the rest here.',
    notChecked: 'It is not checked to the end yet. We come back to you; nothing is needed so far.',
    change: 'Please change',
    tell: 'Please tell us',
    places:
      '{count, plural, one {It is {left} from the left and {top} from the top of {file}.} other {There are # places; the worst is {left} from the left and {top} from the top of {file}.}}',
    page: '{file}, page {page}',
    picture: 'Part of the art, {width} wide; the ring marks the place: {left} from the left, {top} from the top.',
    more: 'And {count, plural, one {one more question} other {# more questions}} like these; the report has them all.',
    ours: '{count, plural, one {One more point is} other {# more points are}} for us to settle; nothing is needed from you for {count, plural, one {that} other {those}}.',
    answer: 'Please answer by number: a new file, “yes” to our offer, or “print it as it is”.',
    unchanged: 'If nothing changes, it prints as described above.',
    by: 'Please let us know by {date}, so that the job keeps its turn.',
    noDate: 'We make the films when we have your answer.',
    thanks: 'Thank you.',
    sizes: 'of different sizes',
    noSize: 'of no known size',
    list: '{first} and {last}',
    others: '{count} more',
  },
  /** The shop's own work list. */
  list: {
    title:
      '{job}: {verdict, select, pass {Ready to film} needsReview {Look first} fail {Not ready} other {Not checked}}',
    about:
      '{films, plural, one {# film} other {# films}} from {files, plural, one {# file} other {# files}}, {size}, {ticket, select, none {shop defaults, no ticket} other {ticket {ticket}}}.',
    ours: 'Ours to do',
    stops: 'Stops filming',
    look: 'Look first',
    notChecked: 'Not checked',
    noReason: 'no reason given',
    limit: '{reading}, {side, select, above {allows} other {needs}} {limit} ({origin}).',
    limitNone: '{reading}, allows none ({origin}).',
    inks: '{count} inks',
    mesh: 'mesh {mesh}',
    ticket: 'your ticket',
    shop: 'your shop’s own',
    default: 'shop default',
    place:
      '{count, plural, one {It is {left} from the left and {top} from the top{file}.} other {# places; the worst is {left} from the left and {top} from the top{file}.}}',
    file: ' of {file}',
    filePage: ' of {file}, page {page}',
    sizes: 'of different sizes',
    noSize: 'of no known size',
    more: 'And {count} more like these, all in the report.',
    takenOn: 'Taken on by {who}: {reason}',
    accepted: '{count, plural, one {# point is accepted as it is} other {# points are accepted as they are}}.',
    fine: '{count, plural, one {# check} other {# checks}} fine.',
  },
  proof: {
    title: 'Proof for approval: {job}',
    garment: 'Garment',
    size: 'Size of the film',
    ordered: 'Print size ordered',
    quantity: 'Quantity',
    inks: 'Inks, in the order of printing',
    screens: '{count, plural, one {# screen} other {# screens}}',
    scale: 'Shown at {percent} of its size; the film is {width} wide and {height} high.',
    accepted: 'Agreed to print as it is',
    open: 'Not settled yet',
    moreOf: 'and {count} more',
    cautions: 'Please note',
    colours: 'Colours on a screen or on paper are not those of ink on cloth.',
    spelling: 'Please read every word and look at size, place and inks: what is approved here is what we print.',
    register: 'From print to print, inks may shift against each other by up to {value}.',
    place: 'The place on the garment is not drawn to measure; it is as agreed with the order.',
    approve: 'I approve it as shown.',
    changes: 'I ask for changes:',
    name: 'Name',
    date: 'Date',
    signature: 'Signature',
  },
  offers: {
    change: 'Or may we change it for you?',
    add: 'Or may we do it for you?',
    asIs: 'Or may we print it as it is?',
    leaveOut: 'Or may we leave it out?',
    merge: 'Or may we choose for you?',
  },
  general: {
    'not-verified': {
      defect: 'Part of your file could not be drawn with certainty{names, select, none {} other { ({names})}}.',
      effect: 'What prints there may differ from what you see.',
      request: 'Please tell us if it is as you want it, or send the original file.',
      offer: 'asIs',
    },
    'not-measured': {
      defect: 'Part of the art in {inks} could not be measured.',
      effect: 'We cannot say yet how it prints.',
      request: 'Please send the original or a vector file.',
      offer: 'asIs',
    },
    'in-doubt': {
      defect: 'Part of the art in {inks} could not be measured well enough to be sure.',
      effect: 'It may print differently from what you see.',
      request: 'Please send the original or a vector file.',
      offer: 'asIs',
    },
    'open-join': {
      defect: 'How your files belong together is not certain.',
      effect: 'A film could be made for the wrong ink or twice.',
      request: 'Please tell us which file is for which ink.',
      offer: 'merge',
    },
  },
  findings: { ...enFiles, ...enPrint },
} as const;

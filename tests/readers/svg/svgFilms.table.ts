import type { InkKind } from '../../../src/artwork/ink.ts';
import type { HiddenReason } from '../../../src/readers/svg/displayList.ts';

/** What a film must give. Every value follows from the lengths written in the file, worked out by hand. */
export interface ExpectedFilm {
  /** Width and height in mm; absent: 60 × 40. */
  readonly sizeMm?: readonly [number, number];
  readonly scaleKnown?: boolean;
  /** Area each ink prints in mm², by key. No other ink may be found, white aside. */
  readonly inks: Readonly<Record<string, number>>;
  /** Area of unnamed white paint, when there is any. */
  readonly whiteMm2?: number;
  /** Name and kind of inks the file names. */
  readonly named?: Readonly<Record<string, readonly [name: string, kind: InkKind]>>;
  /** Objects that must not be seen, and why; all others are seen. */
  readonly hidden?: Readonly<Record<string, HiddenReason>>;
  readonly strokesMm?: Readonly<Record<string, readonly [min: number, max: number]>>;
  /** Boxes in mm: x, y, width, height. */
  readonly boxesMm?: Readonly<Record<string, readonly [number, number, number, number]>>;
  /** Code, what it affects and the inks concerned; no other note may be there. */
  readonly notes?: readonly (readonly [code: string, affects: string, inkKeys?: readonly string[]])[];
  /** Inks with tones; all others have none. */
  readonly toned?: readonly string[];
  /** Allowed error in mm² where shapes are many or the grid cannot hold them. */
  readonly toleranceMm2?: number;
}

const px = 25.4 / 96;

export const expectedFilms: Readonly<Record<string, ExpectedFilm>> = {
  'plain-colours.svg': {
    inks: { '#1f8a9e': 200, '#ff6f59': 300 },
    boxesMm: { sea: [5, 5, 20, 10], reef: [30, 5, 10, 30] },
  },
  'packed.svgz': { inks: { '#1f8a9e': 200, '#ff6f59': 300 } },
  'utf-16.svg': { inks: { '#000000': 100 }, boxesMm: { Übergröße: [5, 5, 10, 10] } },
  'windows-1252.svg': { inks: { '#000000': 100 }, boxesMm: { Größe: [5, 5, 10, 10] } },
  'classes-and-specificity.svg': {
    inks: { '#aa0000': 50, '#00aa00': 50, '#00aaaa': 50, '#0000aa': 50, '#aaaa00': 50, '#aa00aa': 50 },
  },
  'custom-properties.svg': {
    inks: { '#1b2a41': 100, '#ff6f59': 100, '#777700': 100 },
    notes: [['style-not-understood', 'nothing']],
  },
  'current-colour.svg': { inks: { '#3a7d44': 100, '#8c2f39': 100 } },
  'invalid-paint.svg': { inks: { '#336699': 100 }, notes: [['style-not-understood', 'nothing']] },
  'colour-notations.svg': { inks: { '#ff0000': 100, '#808080': 25 }, toleranceMm2: 1.5 },
  'near-colours.svg': { inks: { '#1f8a9e': 100, '#1f8a9f': 100 } },
  'units-millimetres.svg': {
    sizeMm: [60, 50],
    inks: { '#000000': 25.4 * 10, '#cc0000': 25.4 * 25.4 },
    boxesMm: { box: [10, 5, 25.4, 10], points: [10, 20, 25.4, 25.4] },
  },
  'units-em.svg': {
    sizeMm: [25.4, 25.4],
    inks: { '#000000': 40 * 20 * px * px },
    boxesMm: { ems: [20 * px, 20 * px, 40 * px, 20 * px] },
    notes: [['pixels-per-inch-assumed', 'nothing']],
  },
  'units-percent.svg': {
    inks: { '#000000': 300, '#cc0000': Math.PI * ((0.1 * Math.hypot(60, 40)) / Math.SQRT2) ** 2 },
    boxesMm: { share: [6, 4, 30, 10] },
  },
  'size-missing.svg': {
    sizeMm: [100 * px, 50 * px],
    scaleKnown: false,
    inks: { '#000000': 400 * px * px },
    notes: [['size-missing', 'size']],
  },
  'size-percent.svg': {
    sizeMm: [96 * px, 48 * px],
    scaleKnown: false,
    inks: { '#000000': 400 * px * px },
    notes: [['size-missing', 'size']],
  },
  'size-pixels.svg': {
    sizeMm: [50.8, 25.4],
    inks: { '#000000': 25.4 * 12.7 },
    notes: [['pixels-per-inch-assumed', 'nothing']],
  },
  'size-inches.svg': { sizeMm: [50.8, 25.4], inks: { '#000000': 25.4 * 12.7 } },
  'viewbox-slice.svg': { sizeMm: [40, 40], inks: { '#000000': 1600 } },
  'viewbox-meet-corner.svg': { sizeMm: [40, 40], inks: { '#000000': 800 }, boxesMm: { all: [0, 20, 40, 20] } },
  'nested-viewport.svg': { inks: { '#000000': 100 } },
  'nested-transforms.svg': { inks: { '#000000': 80 }, boxesMm: { turned: [28, 10, 4, 20] } },
  'use-and-symbol.svg': {
    inks: { '#1f8a9e': 25, '#ff6f59': 25, '#cc0000': 200 },
    boxesMm: { 'u1/tile': [5, 5, 5, 5], 'u2/tile': [15, 5, 5, 5], 'u3/plate': [30, 5, 20, 10] },
  },
  'stroke-squeezed.svg': {
    inks: { '#000000': 2 * 2 * Math.PI * 8 * 0.5 },
    strokesMm: { 'ring:stroke': [0.5, 1] },
    toleranceMm2: 0.6,
  },
  'stroke-fixed.svg': {
    inks: { '#000000': 50 * 2 * px },
    strokesMm: { 'fixed:stroke': [2 * px, 2 * px] },
    toleranceMm2: 1.8,
  },
  'stroke-dashes.svg': { inks: { '#000000': 64, '#cc0000': 84 }, toleranceMm2: 1.6 },
  'stroke-open-line.svg': {
    inks: { '#cc0000': 80 },
    strokesMm: { 'line:stroke': [1, 1], 'bent:stroke': [1, 1] },
    toleranceMm2: 2.9,
  },
  'stroke-hairline.svg': {
    inks: { '#000000': 0.08, '#cc0000': 100 },
    strokesMm: { 'hair:stroke': [0.002, 0.002] },
    toleranceMm2: 1.5,
  },
  'fill-rules.svg': { inks: { '#000000': 300, '#cc0000': 400 }, toleranceMm2: 2.2 },
  'clip-circle.svg': { inks: { '#000000': Math.PI * 100 } },
  'clip-of-box.svg': { inks: { '#000000': 100 } },
  'clip-away.svg': { inks: { '#000000': 100 }, hidden: { gone: 'clippedAway' } },
  'mask-flat.svg': { inks: { '#1f8a9e': 375 } },
  'opacity-tint.svg': { inks: { '#cc0000': 150, '#0000cc': 100 }, toned: ['#cc0000', '#0000cc'], toleranceMm2: 1.5 },
  'multiply-overprint.svg': { inks: { '#cc0000': 200, '#0000cc': 200 } },
  'blend-other.svg': {
    inks: { '#cc0000': 100, '#0000cc': 200, '#00cc00': 25 },
    notes: [['blend-not-drawn', 'plate', ['#0000cc', '#cc0000']]],
  },
  'filter-blur.svg': { inks: { '#cc0000': 200, '#00cc00': 25 }, notes: [['filter-not-drawn', 'plate', ['#cc0000']]] },
  'gradient-one-stop.svg': { inks: { '#1f8a9e': 100, '#cc0000': 100 } },
  'gradient-hard.svg': { inks: { '#cc0000': 100, '#0000cc': 100 } },
  'gradient-fade.svg': { inks: { '#cc0000': 250 }, toned: ['#cc0000'], toleranceMm2: 2.5 },
  'pattern-dots.svg': { inks: { '#1f8a9e': 64 }, toleranceMm2: 2.4 },
  'markers-arrow.svg': { inks: { '#000000': 18, '#cc0000': 16 }, toleranceMm2: 0.8 },
  'switch-language.svg': { inks: { '#0000cc': 100 }, notes: [['language-chosen', 'nothing']] },
  'paint-order.svg': { inks: { '#cc0000': 400, '#0000cc': 176 }, toleranceMm2: 3.2 },
  'hidden-display.svg': {
    inks: { '#0000cc': 25 },
    hidden: { off: 'layerOff', unseen: 'layerOff', clear: 'transparent' },
  },
  'hidden-covered.svg': { inks: { '#0000cc': 400 }, hidden: { under: 'covered', outside: 'outsidePage' } },
  'white-knocks-out.svg': {
    inks: { '#1b2a41': 300 },
    whiteMm2: 200,
    hidden: { idle: 'sameAsGround' },
    toleranceMm2: 2.2,
  },
  'ink-names.svg': {
    inks: { 'spot:Lagoon': 116, 'spot:Coral': 116, 'spot:Night': 116, 'spot:Moss': 116, registration: 16 },
    named: {
      'spot:Lagoon': ['Lagoon', 'spot'],
      'spot:Coral': ['Coral', 'spot'],
      'spot:Night': ['Night', 'spot'],
      'spot:Moss': ['Moss', 'spot'],
      registration: ['All', 'registration'],
    },
    toleranceMm2: 1.1,
  },
  // CIE L* of #777777 is 50.03 (IEC 61966-2-1 and CIE 15), so half the strength of black.
  'ink-tints.svg': {
    inks: { 'spot:Night': 150 },
    named: { 'spot:Night': ['Night', 'spot'] },
    toned: ['spot:Night'],
    toleranceMm2: 1.3,
  },
  'layer-names.svg': {
    inks: { '#ff6f59': 100, '#1f8a9e': 100, '#000000': 25, '#00cc00': 25 },
    named: { '#ff6f59': ['Coral', 'spot'] },
  },
  'reference-outside.svg': {
    inks: { '#000000': 100 },
    notes: [
      ['external-reference', 'plate'],
      ['external-reference', 'plate'],
    ],
  },
  'use-loop.svg': { inks: { '#000000': 100 }, notes: [['reference-loop', 'plate']] },
  'names-with-markup.svg': {
    inks: { "spot:<b>Red & 'Blue'</b>": 100 },
    named: { "spot:<b>Red & 'Blue'</b>": ["<b>Red & 'Blue'</b>", 'spot'] },
  },
  'entities-doctype.svg': { inks: { '#1f8a9e': 100 } },
  'foreign-content.svg': { inks: { '#000000': 100 }, notes: [['foreign-content-not-drawn', 'plate']] },
  'image-black-white.svg': { inks: { '#1f8a9e': 2200, '#000000': 100 } },
  'image-coloured.svg': {
    inks: { '#000000': 100 },
    notes: [['image-not-separated', 'inks']],
  },
  'inkscape-layers.svg': {
    inks: { '#ff6f59': 200 + Math.PI * 25, '#1f8a9e': 250 },
    named: { '#ff6f59': ['Coral', 'spot'], '#1f8a9e': ['Lagoon', 'spot'] },
    hidden: { rect3: 'layerOff' },
    toleranceMm2: 2.5,
  },
  'inkscape-clones.svg': { inks: { '#1f8a9e': 68 }, toleranceMm2: 1.1 },
  'inkscape-clip.svg': { inks: { '#cc0000': 160, '#0000cc': 40 }, toleranceMm2: 1.8 },
  'inkscape-classes.svg': {
    inks: { '#1f8a9e': 100, '#1b2a41': 20 },
    strokesMm: { 'p1:stroke': [0.5, 0.5] },
    toleranceMm2: 1.5,
  },
  'inkscape-groups.svg': { inks: { '#3a7d44': 50 } },
};

import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { Reading } from '../../src/findings/finding.ts';
import { readFilm } from '../readers/pdf/support/drawFilm.ts';
import { spot, tinyPdf } from '../readers/pdf/support/tinyPdf.ts';
import { readSvg, svgText } from '../readers/svg/svgSupport.ts';
import { type StatedDetail, statedDetail } from '../support/statedDetail.ts';

/**
 * Art with widths worked out from the numbers it is written with. Each is drawn at 600 dpi, where a pixel of 0.042 mm
 * could not tell them to a hundredth, measured, and read from the file to a thousandth.
 */
const dpi = 600;
const toMm = 25.4 / 72;

type Kind = 'lines' | 'gaps' | 'dots' | 'islands';

interface Row {
  readonly name: string;
  readonly art: string;
  readonly kind: Kind;
  /** Of every reading of the kind. */
  readonly widthsMm: readonly number[];
}

function expectExact(readings: readonly Reading[], widthsMm: readonly number[]): void {
  expect(readings.map(({ value }) => value.toFixed(4))).toHaveLength(widthsMm.length);
  const sorted = readings.toSorted((a, b) => a.value - b.value);
  widthsMm
    .toSorted((a, b) => a - b)
    .forEach((widthMm, k) => {
      expect(Math.abs(sorted[k].value - widthMm), `${sorted[k].value} for ${widthMm}`).toBeLessThan(1e-3);
      expect(Math.abs(sorted[k].value - widthMm), 'within its bar').toBeLessThanOrEqual(sorted[k].plusMinus);
      expect(sorted[k].plusMinus).toBeLessThan(3e-3);
    });
}

const cos30 = Math.cos(Math.PI / 6);

const svgRows: readonly Row[] = [
  { name: 'an upright bar', art: '<rect x="3" y="3" width="20" height="0.31"/>', kind: 'lines', widthsMm: [0.31] },
  {
    name: 'a turned bar',
    art: '<rect x="3" y="16" width="20" height="0.27" transform="rotate(17 13 16)"/>',
    kind: 'lines',
    widthsMm: [0.27],
  },
  {
    // Area 8 · 0.4, halved in height and doubled in breadth, over its long side.
    name: 'a bar turned and then scaled unequally, which makes it a leaning one',
    art: '<rect width="8" height="0.4" transform="translate(3 16) scale(2 0.5) rotate(30)"/>',
    kind: 'lines',
    widthsMm: [(8 * 0.4) / (8 * Math.hypot(2 * cos30, 0.25))],
  },
  {
    // The pen of 0.4 mm becomes an ellipse of 0.8 by 0.2; square to a line at 30° it reaches as far as its support says.
    name: 'a stroke turned and then scaled unequally',
    art: '<path d="M0 0H9" fill="none" stroke="#000" stroke-width="0.4" transform="translate(3 16) scale(2 0.5) rotate(30)"/>',
    kind: 'lines',
    widthsMm: [(9 * 0.4) / (9 * Math.hypot(2 * cos30, 0.25))],
  },
  {
    name: 'a bar of a symbol that is used at another size',
    art: '<symbol id="s" viewBox="0 0 100 10"><path d="M0 4h100v1h-100z"/></symbol><use href="#s" x="5" y="5" width="30" height="3"/>',
    kind: 'lines',
    widthsMm: [0.3],
  },
  {
    name: 'a bent stroke of one width',
    art: '<path d="M3 35c5 -8 9 5 18 -4" fill="none" stroke="#000" stroke-width="0.24"/>',
    kind: 'lines',
    widthsMm: [0.24],
  },
  {
    name: 'a ring of two circles',
    art: '<path fill-rule="evenodd" d="M40 20a8 8 0 1 0 -16 0a8 8 0 1 0 16 0zM39.63 20a7.63 7.63 0 1 0 -15.26 0a7.63 7.63 0 1 0 15.26 0z"/>',
    kind: 'lines',
    widthsMm: [0.37],
  },
  {
    // The upper edge comes down to 9.3, the lower one up to 9.7.
    name: 'the narrowest spot of a waist',
    art: '<path d="M5 5h12v1.5q0 2.8 14 2.8t14 -2.8v-1.5h12v9h-12v-1.5q0 -2.8 -14 -2.8t-14 2.8v1.5h-12z"/>',
    kind: 'lines',
    widthsMm: [0.4],
  },
  {
    name: 'a bar that narrows to one end',
    art: '<path d="M3 10h20v0.3l-20 -0.06z"/>',
    kind: 'lines',
    widthsMm: [0.2404],
  },
  {
    name: 'two bars that share an edge, as one',
    art: '<rect x="3" y="10" width="20" height="0.15"/><rect x="3" y="10.15" width="20" height="0.12"/>',
    kind: 'lines',
    widthsMm: [0.27],
  },
  {
    name: 'two bars that overlap, as wide as both together',
    art: '<rect x="3" y="10" width="20" height="0.3"/><rect x="3" y="10.02" width="20" height="0.3"/>',
    kind: 'lines',
    widthsMm: [0.32],
  },
  {
    name: 'a bar that a clip leaves less of',
    art: '<clipPath id="c"><rect x="3" y="10" width="20" height="0.28"/></clipPath><rect clip-path="url(#c)" x="3" y="9.8" width="20" height="0.9"/>',
    kind: 'lines',
    widthsMm: [0.28],
  },
  {
    name: 'a bar that white cuts into',
    art: '<rect x="3" y="10" width="20" height="0.5"/><rect x="3" y="10.33" width="20" height="2" fill="#fff"/>',
    kind: 'lines',
    widthsMm: [0.33],
  },
  {
    name: 'a bar that another ink cuts into',
    art: '<rect x="3" y="10" width="20" height="0.5"/><rect x="3" y="10.31" width="20" height="2" fill="#e2725b"/>',
    kind: 'lines',
    widthsMm: [0.31],
  },
  {
    name: 'dashes',
    art: '<path d="M3 10l20 3" stroke="#000" stroke-width="0.23" stroke-dasharray="4 3 2"/>',
    kind: 'lines',
    widthsMm: [0.23, 0.23, 0.23, 0.23],
  },
  {
    name: 'a gap between two boxes',
    art: '<rect x="5" y="5" width="10" height="20"/><rect x="15.37" y="5" width="10" height="20"/>',
    kind: 'gaps',
    widthsMm: [0.37],
  },
  {
    name: 'a gap between a box and a stroke',
    art: '<rect x="5" y="5" width="10" height="20"/><path d="M16 5v20" stroke="#000" stroke-width="1.2"/>',
    kind: 'gaps',
    widthsMm: [0.4],
  },
  {
    name: 'a gap between two discs at its narrowest',
    art: '<circle cx="20" cy="20" r="6"/><circle cx="32.31" cy="20" r="6"/>',
    kind: 'gaps',
    widthsMm: [0.31],
  },
  {
    name: 'a white stroke on black',
    art: '<rect x="5" y="5" width="30" height="20"/><path d="M9 10l20 5" stroke="#fff" stroke-width="0.36"/>',
    kind: 'gaps',
    widthsMm: [0.36],
  },
  {
    name: 'a bar knocked out of black as a part of the same path',
    art: '<path fill-rule="evenodd" d="M5 5h30v20h-30zM9 10h20v0.34h-20z"/>',
    kind: 'gaps',
    widthsMm: [0.34],
  },
  { name: 'a small disc', art: '<circle cx="20.01" cy="20.02" r="0.16"/>', kind: 'dots', widthsMm: [0.32] },
  {
    name: 'a small ellipse, turned',
    art: '<ellipse cx="20" cy="20" rx="0.2" ry="0.14" transform="rotate(33 20 20)"/>',
    kind: 'dots',
    widthsMm: [2 * Math.sqrt(0.2 * 0.14)],
  },
  {
    name: 'a small box',
    art: '<rect x="20.01" y="20.02" width="0.3" height="0.22"/>',
    kind: 'dots',
    widthsMm: [Math.sqrt((4 * 0.3 * 0.22) / Math.PI)],
  },
  {
    name: 'dots drawn as dashes of no length with round ends',
    art: '<path d="M5 10h3.4" stroke="#000" stroke-width="0.34" stroke-linecap="round" stroke-dasharray="0 1"/>',
    kind: 'dots',
    widthsMm: [0.34, 0.34, 0.34, 0.34],
  },
  {
    name: 'a small white disc on black',
    art: '<rect x="5" y="5" width="30" height="20"/><circle cx="20" cy="15" r="0.21" fill="#fff"/>',
    kind: 'islands',
    widthsMm: [0.42],
  },
  {
    name: 'a small hole in a path',
    art: '<path fill-rule="evenodd" d="M5 5h30v20h-30zM20 10h0.4v0.3h-0.4z"/>',
    kind: 'islands',
    widthsMm: [Math.sqrt((4 * 0.4 * 0.3) / Math.PI)],
  },
];

/** In points; `L` is the ink measured, `M` another. */
const pdfRows: readonly Row[] = [
  { name: 're', art: '10.03 20.11 60 0.9 re f', kind: 'lines', widthsMm: [0.9 * toMm] },
  {
    name: 'm l l l h',
    art: '10 60 m 70 62 l 70 62.8 l 10 60.8 l h f',
    kind: 'lines',
    widthsMm: [(0.8 * 60 * toMm) / Math.hypot(60, 2)],
  },
  {
    name: 'm l l l f, not closed',
    art: '10 60 m 70 60 l 70 60.77 l 10 60.77 l f',
    kind: 'lines',
    widthsMm: [0.77 * toMm],
  },
  {
    name: 're under a turned and unequal cm',
    art: 'q 0.9 0.4 -0.2 0.7 20 20 cm 0 0 50 0.9 re f Q',
    kind: 'lines',
    widthsMm: [((0.9 * 0.7 + 0.4 * 0.2) * 0.9 * toMm) / Math.hypot(0.9, 0.4)],
  },
  {
    name: 'strokes under an unequal cm, each as wide as its direction makes it',
    art: 'q 1 0 0 0.5 0 0 cm 1.5 w 10 300 m 80 300 l 80 380 l S Q',
    kind: 'lines',
    widthsMm: [0.75 * toMm],
  },
  {
    name: 'a bar that a clip leaves less of',
    art: 'q 10 20 60 0.8 re W n 5 15 90 5.55 re f Q',
    kind: 'lines',
    widthsMm: [0.55 * toMm],
  },
  {
    name: 'a bar that another ink cuts into',
    art: '10 20 60 2 re f /M cs 1 scn 10 20.9 60 5 re f',
    kind: 'lines',
    widthsMm: [0.9 * toMm],
  },
  {
    name: 'a bar that another ink overprints and leaves as it is',
    art: '10 20 60 0.85 re f /O gs /M cs 1 scn 10 20.3 60 5 re f',
    kind: 'lines',
    widthsMm: [0.85 * toMm],
  },
  {
    name: 'a light tint of the ink itself cuts into it too',
    art: '10 20 60 2 re f 0.2 scn 10 20.93 60 5 re f',
    kind: 'lines',
    widthsMm: [0.93 * toMm],
  },
  {
    name: 'a gap between re and re',
    art: '20 20 40 40 re f 61.1 20 40 40 re f',
    kind: 'gaps',
    widthsMm: [1.1 * toMm],
  },
  {
    name: 'a white bar on the ink',
    art: '20 20 60 40 re f 0 0 0 0 k 30 30 40 1.2 re f',
    kind: 'gaps',
    widthsMm: [1.2 * toMm],
  },
  {
    name: 'a white stroke on the ink',
    art: '20 20 60 40 re f 0 0 0 0 K 1.3 w 30 30 m 70 45 l S',
    kind: 'gaps',
    widthsMm: [1.3 * toMm],
  },
  {
    name: 'a small white box on the ink',
    art: '20 20 60 40 re f 1 g 40 40 0.9 1.1 re f',
    kind: 'islands',
    widthsMm: [Math.sqrt((4 * 0.9 * 1.1) / Math.PI) * toMm],
  },
  {
    name: 'a small box',
    art: '40 40 0.9 0.8 re f',
    kind: 'dots',
    widthsMm: [Math.sqrt((4 * 0.9 * 0.8) / Math.PI) * toMm],
  },
];

const resources = `/ColorSpace<</L ${spot('Lagoon')}/M ${spot('Coral', '1 0 0 0')}>>/ExtGState<</O<</op true/OP true>>/A<</ca 0.9>>>>`;

async function ofSvg(art: string): Promise<StatedDetail> {
  return statedDetail(await readSvg(svgText(art)), '#000000', dpi);
}

async function ofPdf(content: string): Promise<StatedDetail> {
  const film = await readFilm(
    tinyPdf({ content: `/L cs /L CS 1 scn 1 SCN\n${content}`, resources, mediaBox: [0, 0, 200, 200] }),
  );
  return statedDetail(film, 'spot:Lagoon', dpi);
}

describe('exact widths of SVG art', () => {
  it.each(svgRows)('$name', async ({ art, kind, widthsMm }) => {
    expectExact((await ofSvg(art))[kind], widthsMm);
  });
});

describe('exact widths of PDF art', () => {
  it.each(pdfRows)('$name', async ({ art, kind, widthsMm }) => {
    expectExact((await ofPdf(art))[kind], widthsMm);
  });
});

describe('where the file does not state it, the pixels have the last word', () => {
  const rows: readonly { name: string; ofArt: () => Promise<StatedDetail> }[] = [
    {
      name: 'a bar in a group that lets something through',
      ofArt: () => ofSvg('<g opacity="0.9"><rect x="3" y="10" width="20" height="0.3"/></g>'),
    },
    {
      name: 'a bar a picture may reach',
      ofArt: async () => {
        const grey = await sharp({ create: { width: 4, height: 4, channels: 3, background: '#777777' } })
          .png()
          .toBuffer();
        const href = `data:image/png;base64,${grey.toString('base64')}`;
        return ofSvg(
          `<rect x="3" y="10" width="20" height="0.3"/><image x="3" y="10.29" width="20" height="20" href="${href}"/>`,
        );
      },
    },
    {
      name: 'a bar with a gradient beside it',
      ofArt: () =>
        ofSvg(
          '<linearGradient id="g"><stop stop-color="#000"/><stop offset="1" stop-color="#fff"/></linearGradient><rect x="3" y="10" width="20" height="0.3"/><rect x="3" y="10.28" width="20" height="0.05" fill="url(#g)"/>',
        ),
    },
    { name: 'a bar painted with opacity', ofArt: () => ofPdf('/A gs 10 20 60 0.9 re f') },
  ];
  it.each(rows)('$name', async ({ ofArt }) => {
    const { detail, lines } = await ofArt();
    expect(detail.lines.length).toBeGreaterThan(0);
    detail.lines.forEach((place, k) => {
      expect(lines[k].value).toBe(place.minWidthMm);
      expect(lines[k].plusMinus).toBe(place.plusMinusMm);
    });
  });
});

describe('lines too thin for the pixels', () => {
  it('a bar the pixels do not show is read from the file', async () => {
    const { detail, lines } = await ofSvg('<rect x="3" y="10.02" width="20" height="0.008"/>');
    expect(detail.lines).toEqual([]);
    expectExact(lines, [0.008]);
  });

  it('a turned bar of a few micrometres is one or more readings of that width', async () => {
    const { lines } = await ofSvg('<rect x="3" y="20" width="20" height="0.012" transform="rotate(8 13 20)"/>');
    expect(lines.length).toBeGreaterThan(0);
    for (const { value } of lines) expect(Math.abs(value - 0.012)).toBeLessThan(1e-4);
  });

  it('a white hair on black is a gap', async () => {
    const { gaps } = await ofSvg(
      '<rect x="3" y="3" width="30" height="20"/><rect x="6" y="10.02" width="20" height="0.008" fill="#fff"/>',
    );
    expectExact(gaps, [0.008]);
  });

  it('a hair that lies within black of its own ink is none', async () => {
    const { lines } = await ofSvg(
      '<rect x="3" y="3" width="30" height="20"/><rect x="6" y="10" width="20" height="0.01"/>',
    );
    expect(lines).toEqual([]);
  });
});

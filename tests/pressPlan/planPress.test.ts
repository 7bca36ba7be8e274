import { describe, expect, it } from 'vitest';
import type { Artwork, Film } from '../../src/artwork/film.ts';
import { planPress } from '../../src/pressPlan/planPress.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';

const film = {
  id: 'f1',
  file: 'art.pdf',
  page: 1,
  pageCount: 1,
  format: 'pdf',
  form: 'composite',
  separationName: null,
  widthMm: 300,
  heightMm: 350,
  scaleKnown: true,
  inks: [],
  objects: [],
  notes: [],
  drawing: { nativeGrid: null, plan: async () => [] },
  nature: 'vector',
} as const satisfies Film;

/** A job of inks given as name and colour; the last argument of an ink says whether it prints. */
function artworkOf(inks: readonly (readonly [string, string, boolean?])[], films: readonly Film[] = [film]): Artwork {
  return {
    name: 'Midsummer tee',
    films,
    inks: inks.map(([name, displayHex, printed = true], index) => ({
      id: `i${index + 1}`,
      name,
      nameFrom: 'file',
      kind: 'spot',
      displayHex,
      printed,
    })),
    plateSources: inks.map(([name], index) => ({
      id: `p${index + 1}`,
      inkId: `i${index + 1}`,
      filmId: 'f1',
      inkKey: name,
    })),
    joinNotes: [],
  };
}

function plan(
  inks: readonly (readonly [string, string, boolean?])[],
  ticket = '',
  coverage: Readonly<Record<string, number>> = {},
  more: { touching?: readonly (readonly [string, string])[]; films?: readonly Film[]; shop?: string } = {},
) {
  return planPress({
    artwork: artworkOf(inks, more.films),
    ticket: resolveTicket({
      ticket: { fileName: 'job.yaml', text: ticket },
      ...(more.shop === undefined ? {} : { shop: { fileName: 'shop.yaml', text: more.shop } }),
    }),
    coverageByInkId: new Map(Object.entries(coverage)),
    ...(more.touching ? { touchingInkIdPairs: more.touching } : {}),
  });
}

function words(planned: ReturnType<typeof plan>): readonly string[] {
  return planned.order.map((step) => `${step.station} ${step.inkName ?? step.what}`);
}

describe('the order', () => {
  it('goes base, flash, light to dark, key, highlight', () => {
    const planned = plan([
      ['Night', '#101820'],
      ['Highlight white', '#ffffff'],
      ['Black', '#000000'],
      ['Sun', '#ffd400'],
      ['White base', '#ffffff'],
      ['Coral', '#ff7f50'],
    ]);
    expect(words(planned)).toEqual([
      '1 White base',
      '2 flash',
      '3 Sun',
      '4 Coral',
      '5 Night',
      '6 Black',
      '7 Highlight white',
    ]);
    expect(planned.stationsNeeded).toBe(7);
    expect(planned.order.map((step) => step.role)).toEqual([
      'underbase',
      null,
      'colour',
      'colour',
      'colour',
      'key',
      'highlight',
    ]);
    for (const step of planned.order) expect(step.why).not.toBe('');
  });

  it('prints the smaller of two inks of like lightness first', () => {
    const inks = [
      ['Reed', '#4f8a3c'],
      ['Moss', '#4d883a'],
    ] as const;
    expect(words(plan(inks, '', { i1: 40, i2: 3 }))).toEqual(['1 Moss', '2 Reed']);
    expect(words(plan(inks, '', { i1: 3, i2: 40 }))).toEqual(['1 Reed', '2 Moss']);
  });

  it('leaves out what does not print, and plans nothing without inks', () => {
    expect(
      words(
        plan([
          ['Coral', '#ff7f50'],
          ['All', '#000000', false],
        ]),
      ),
    ).toEqual(['1 Coral']);
    const empty = plan([]);
    expect(empty).toMatchObject({ order: [], stationsNeeded: 0 });
    expect(empty.notes).toEqual(['No ink prints, so there is nothing to plan.']);
  });

  it('has no flash for a base that nothing prints on', () => {
    expect(words(plan([['White base', '#ffffff']]))).toEqual(['1 White base']);
  });

  it('keeps the ticket’s order where it gives roles, and says what is unusual about it', () => {
    const ticket = 'screens: [{ ink: Night, role: key }, { ink: Coral }, { ink: White base, role: underbase }]';
    const planned = plan(
      [
        ['White base', '#ffffff'],
        ['Coral', '#ff7f50'],
        ['Night', '#101820'],
        ['Reed', '#4f8a3c'],
      ],
      ticket,
    );
    expect(planned.order.filter((step) => step.what === 'ink').map((step) => step.inkName)).toEqual([
      'Night',
      'Coral',
      'White base',
      'Reed',
    ]);
    const notes = planned.notes.join('\n');
    expect(notes).toContain('The order is the ticket’s.');
    expect(notes).toContain('The ticket prints Night (key) before White base (underbase)');
    expect(notes).toContain('Not on the ticket, so put after the frames it lists: Reed.');
  });

  it('takes a list of frames without roles for a list of meshes, not for an order', () => {
    const ticket = 'screens: [{ ink: Night }, { ink: Coral }]';
    expect(
      words(
        plan(
          [
            ['Night', '#101820'],
            ['Coral', '#ff7f50'],
          ],
          ticket,
        ),
      ),
    ).toEqual(['1 Coral', '2 Night']);
  });

  it('is the same whatever order the inks come in', () => {
    const inks = [
      ['Sun', '#ffd400'],
      ['Coral', '#ff7f50'],
      ['Reed', '#4f8a3c'],
      ['Night', '#101820'],
    ] as const;
    expect(words(plan([...inks].reverse()))).toEqual(words(plan(inks)));
  });
});

describe('stations', () => {
  const six = [
    ['White base', '#ffffff'],
    ['Sun', '#ffd400'],
    ['Coral', '#ff7f50'],
    ['Reed', '#4f8a3c'],
    ['Lagoon', '#1f8a9e'],
    ['Night', '#101820'],
  ] as const;

  it.each([
    // Six inks, one of them a base; the flash beside the heads, on one, or with a cool-down: six colours, a flash and a
    // cool-down are the eight stations of a published example.
    [0, 6],
    [1, 7],
    [2, 8],
  ])('with %i heads a flash: %i', (flashStations, needed) => {
    const planned = plan(six, `press: { heads: 6, flashStations: ${flashStations} }`);
    expect(planned).toMatchObject({ stationsNeeded: needed, stationsOwned: 6 });
    expect(planned.order.at(-1)?.station).toBe(needed);
    expect(planned.notes.some((note) => note.startsWith(`Needs ${needed} stations and the press has 6`))).toBe(
      needed > 6,
    );
  });

  it('lets a flash beside the heads share the base’s station', () => {
    expect(words(plan(six, 'press: { flashStations: 0 }')).slice(0, 3)).toEqual(['1 White base', '1 flash', '2 Sun']);
  });
});

describe('the notes', () => {
  const inks = [['Coral', '#ff7f50']] as const;

  it('give squeegee, frame and platen for the print’s size', () => {
    const notes = plan(inks, 'print: { widthMm: 300, heightMm: 350 }\npress: { platenMm: [400, 450] }').notes;
    // 300 + 2·13 = 326 and 300 + 2·25 = 350; 300 + 2·50 = 400 and 350 + 2·75 = 500; (400 − 300)/2 and (450 − 350)/2.
    expect(notes[1]).toContain('Squeegee: 326 mm to 350 mm');
    expect(notes[2]).toContain('at least 400 × 500 mm inside');
    expect(notes[3]).toBe(
      'Platen 400 × 450 mm: the print of 300 × 350 mm, centred, leaves 50 mm at the sides and 50 mm at the ends.',
    );
  });

  it.each([
    ['[340, 450]', 'leaves only 20 mm at the sides and 50 mm at the ends, less than the 25 mm wanted'],
    [
      '[308, 450]',
      'leaves only 4 mm at the sides and 50 mm at the ends, less than the 6 mm that is the practical least',
    ],
    ['[290, 450]', 'is larger than the platen'],
  ])('say when the platen %s is short', (platen, expected) => {
    const notes = plan(inks, `print: { widthMm: 300, heightMm: 350 }\npress: { platenMm: ${platen} }`).notes;
    expect(notes.find((note) => note.startsWith('Platen'))).toContain(expected);
  });

  it('use the film’s size when the ticket gives none, and none when the file does not know it', () => {
    expect(plan(inks).notes.join('\n')).toContain('the whole film of 300 × 350 mm (the ticket gives no print size)');
    const unknown = plan(inks, '', {}, { films: [{ ...film, scaleKnown: false }] });
    expect(unknown.notes.join('\n')).toContain('size of the image is not known');
  });

  it('choose the smallest of the shop’s frames that fits', () => {
    const print = 'print: { widthMm: 300, heightMm: 350 }';
    const frames = (width: number) =>
      `frames: [{ name: wide, insideWidthMm: 600, insideHeightMm: 800 }, { name: small, insideWidthMm: ${width}, insideHeightMm: 500 }]`;
    expect(plan(inks, print, {}, { shop: frames(400) }).notes.join('\n')).toContain('Frame: small is the smallest');
    expect(plan(inks, print, {}, { shop: frames(399) }).notes.join('\n')).toContain('Frame: wide is the smallest');
    const none = 'frames: [{ name: tiny, insideWidthMm: 200, insideHeightMm: 200 }]';
    expect(plan(inks, print, {}, { shop: none }).notes.join('\n')).toContain(
      'none of the shop’s frames has 400 × 500 mm',
    );
  });

  it('estimate ink only when quantity, mesh and coverage are known', () => {
    const mesh = 'screens: [{ ink: Coral, mesh: { threadsPerCm: 43, threadUm: 80 } }]';
    const ink = (ticket: string, coverage: Readonly<Record<string, number>>) =>
      plan(inks, ticket, coverage).notes.find((note) => note.startsWith('Ink, an estimate only'));
    // 0.300 · 0.350 m² · 0.60 · 53.4 cm³/m² · 1.438 g/cm³ = 4.83 g; · 72 · 1.15 = 400 g.
    expect(ink(`print: { quantity: 72 }\n${mesh}`, { i1: 60 })).toContain('Coral 4.8 g a print, 400 g in all');
    expect(ink(mesh, { i1: 60 })).toBeUndefined();
    expect(ink('print: { quantity: 72 }', { i1: 60 })).toBeUndefined();
    expect(ink(`print: { quantity: 72 }\n${mesh}`, {})).toBeUndefined();
  });

  it('name the mesh of each frame, and those without one', () => {
    const ticket = 'screens: [{ ink: Coral, mesh: { threadsPerCm: 43, threadUm: 80 } }]';
    const planned = plan(
      [
        ['Coral', '#ff7f50'],
        ['Night', '#101820'],
      ],
      ticket,
    );
    expect(planned.order.map((step) => step.mesh)).toEqual(['43/cm, 80 µm (110/in)', null]);
    expect(planned.notes).toContain('No mesh is given for Night.');
  });

  it('warn of a dark garment without a base, of inks that touch, and of a large light ink before a small one', () => {
    const two = [
      ['Sun', '#ffd400'],
      ['Night', '#101820'],
    ] as const;
    const dark = 'garment: { colour: navy }';
    expect(plan(two, dark).notes.join('\n')).toContain('no frame is an underbase');
    expect(plan([...two, ['White base', '#ffffff']], dark).notes.join('\n')).not.toContain('no frame is an underbase');
    expect(plan(two, '', {}, { touching: [['i1', 'i2']] }).notes.join('\n')).toContain(
      'Wet beside wet: Sun and Night.',
    );
    expect(plan(two, '', { i1: 45, i2: 1 }).notes.join('\n')).toContain('print it last');
    expect(plan(two, '', { i1: 10, i2: 1 }).notes.join('\n')).not.toContain('print it last');
  });

  it('end the cautions with the makers’ data sheets, local codes and licensed practice', () => {
    const { cautions } = plan(inks);
    expect(cautions.length).toBeGreaterThanOrEqual(6);
    expect(cautions.at(-1)).toMatch(
      /makers’ data sheets, local codes and licensed practice\. This plan does not replace them\.$/u,
    );
  });
});

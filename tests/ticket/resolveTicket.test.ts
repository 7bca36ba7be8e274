import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';

function fixture(fileName: string) {
  return { fileName, text: readFileSync(new URL(`../../fixtures/tickets/${fileName}`, import.meta.url), 'utf8') };
}

function ticketOf(text: string, shop?: string) {
  return resolveTicket({
    ticket: { fileName: 'job.yaml', text },
    ...(shop === undefined ? {} : { shop: { fileName: 'shop.yaml', text: shop } }),
  });
}

describe('resolveTicket without files', () => {
  const ticket = resolveTicket({});

  it('takes every value from the defaults and knows no mesh', () => {
    expect(ticket).toMatchObject({ job: null, ticketFile: null, shopFile: null, screens: [], frames: [], meshes: [] });
    expect(ticket.garment.colourHex).toEqual({ value: '#ffffff', from: 'default' });
    expect(ticket.press.heads).toEqual({ value: 6, from: 'default' });
    expect(ticket.film.marks).toEqual({ value: 'inArt', from: 'default' });
    for (const limit of Object.values(ticket.limits)) expect(limit.from).toBe('default');
  });

  it('falls back on the garment floors of 1 pt and 2 pt, marked with their source', () => {
    const { mesh, limits, listed } = ticket.screenFor('Coral');
    expect({ mesh, listed }).toEqual({ mesh: null, listed: false });
    // 1 pt = 25.4 / 72 = 0.3528 mm; 2 pt = 0.7056 mm.
    expect(limits.minLineMm).toMatchObject({ value: 0.3528, from: 'default', source: expect.stringContaining('1 pt') });
    expect(limits.minGapMm).toMatchObject({ value: 0.7056, from: 'default', source: expect.stringContaining('2 pt') });
    expect(limits.minDotMm.value).toBe(0.3528);
    expect(limits.minIslandMm.value).toBe(0.7056);
    expect(limits.minTypePt).toMatchObject({ value: 8, unit: 'pt', from: 'default' });
    expect(limits.trapMm).toMatchObject({ value: 0.25, from: 'default', source: 'common practice, no source' });
  });

  it('is the same as an empty ticket, and every limit has a rule and a source', () => {
    for (const text of ['', '{}', '# only a comment\n', '---\n']) {
      expect(ticketOf(text).limits).toEqual(ticket.limits);
    }
    for (const limit of [...Object.values(ticket.limits), ...Object.values(ticket.screenFor('x').limits)]) {
      expect(limit.rule.length).toBeGreaterThan(5);
      expect(limit.source.length).toBeGreaterThan(5);
    }
  });
});

describe('resolveTicket with the midsummer ticket', () => {
  const ticket = resolveTicket({ ticket: fixture('midsummer-tee.yaml') });

  it('keeps what it says', () => {
    expect(ticket.job).toEqual({ value: 'Midsummer tee', from: 'ticket' });
    expect(ticket.garment).toEqual({
      colourHex: { value: '#1b2a41', from: 'ticket' },
      fabric: { value: 'cotton', from: 'ticket' },
    });
    expect(ticket.print.quantity).toEqual({ value: 72, from: 'ticket' });
    expect(ticket.press.platenMm).toEqual({ value: [400, 450], from: 'ticket' });
    expect(ticket.film.dpi).toEqual({ value: 720, from: 'ticket' });
    expect(ticket.limits.maxInks).toMatchObject({ value: 4, from: 'ticket', unit: 'count' });
    expect(ticket.limits.stations).toMatchObject({ value: 6, from: 'ticket' });
    expect(ticket.limits.registrationMm).toMatchObject({ value: 0.25, from: 'ticket', unit: 'mm' });
    expect(ticket.screens.map((frame) => [frame.inkName, frame.role.value, frame.listed])).toEqual([
      ['White base', 'underbase', true],
      ['Lagoon', 'colour', true],
      ['Coral', 'colour', true],
      ['Night', 'key', true],
    ]);
  });

  it('lets the frame’s own limit win over the job’s, and names the mesh rule beside it', () => {
    const [base, lagoon] = ticket.screens;
    expect(base.limits.minLineMm).toMatchObject({ value: 0.6, from: 'ticket' });
    expect(base.limits.minLineMm.rule).toBe('screens[0].limits.minLineMm; by mesh 43/cm, 80 µm it would be 0.31 mm');
    expect(lagoon.limits.minLineMm).toMatchObject({ value: 0.35, from: 'ticket' });
  });

  it('takes what the ticket leaves open from the mesh', () => {
    // 43-80: 10000/43 + 80 = 312.56 µm. 120-34 with a measured opening of 45: 45 + 68 = 113 µm.
    expect(ticket.screens[0].limits.minIslandMm).toMatchObject({ value: 0.3126, from: 'mesh' });
    expect(ticket.screens[3].limits.minIslandMm).toMatchObject({ value: 0.113, from: 'mesh' });
    expect(ticket.screens[3].mesh?.value).toMatchObject({ openingUm: 45, openingFrom: 'dataSheet' });
  });

  it('means the same mesh by 110 per inch as by 43 per cm', () => {
    expect(ticket.screens[2].mesh?.value).toEqual(ticket.screens[0].mesh?.value);
  });

  it.each(['White base', 'white_base', 'WHITE BASE', 'White base copy', 'White-Base 2', 'White base C'])(
    'finds the frame of %j',
    (name) => expect(ticket.screenFor(name)).toBe(ticket.screens[0]),
  );

  it('makes a frame of the job’s limits for an ink it does not list', () => {
    const frame = ticket.screenFor('Reed');
    expect(frame).toMatchObject({ inkName: 'Reed', listed: false, mesh: null, file: null });
    expect(frame.limits.minGapMm).toMatchObject({
      value: 0.5,
      from: 'ticket',
      rule: 'limits.minGapMm',
      source: 'your ticket',
    });
  });
});

describe('resolveTicket with the shop’s file', () => {
  it('puts the ticket over the shop and the shop over the defaults', () => {
    const ticket = resolveTicket({ ticket: fixture('band-poster.json'), shop: fixture('shop.yaml') });
    expect(ticket.ticketFile).toBe('band-poster.json');
    expect(ticket.shopFile).toBe('shop.yaml');
    expect(ticket.press).toEqual({
      heads: { value: 4, from: 'shop' },
      registrationMm: { value: 0.5, from: 'shop' },
      platenMm: { value: [500, 700], from: 'shop' },
      flashStations: { value: 0, from: 'shop' },
    });
    expect(ticket.garment.colourHex).toEqual({ value: '#fff4d6', from: 'ticket' });
    expect(ticket.film.marks).toEqual({ value: 'addedAtOutput', from: 'ticket' });
    const [sunflower, night] = ticket.screens;
    expect(sunflower.mesh).toMatchObject({ value: { threadsPerCm: 120, threadUm: 34 }, from: 'ticket' });
    expect(sunflower.limits.trapMm).toMatchObject({
      value: 0.3,
      from: 'shop',
      rule: 'limits.trapMm',
      source: 'shop file',
    });
    // 0.5 mm of press misfit must be covered, where nobody says otherwise.
    expect(sunflower.limits.chokeMm).toMatchObject({ value: 0.5, from: 'shop' });
    expect(night).toMatchObject({
      inkName: 'barn-night',
      file: 'barn-night.tif',
      role: { value: 'key', from: 'ticket' },
    });
    expect(night.mesh?.value).toMatchObject({ threadsPerCm: 90, threadUm: 48, threadAssumed: true });
    expect(night.limits.minLineMm.rule).toContain('thread assumed');
    expect(ticket.frames[1]).toEqual({ name: 'large', insideWidthMm: 584, insideHeightMm: 787 });
  });

  it('gives an ink nobody lists the shop’s mesh: 0.31 mm for 43/cm with 80 µm', () => {
    const ticket = resolveTicket({ shop: fixture('shop.yaml') });
    const coral = ticket.screenFor('Coral');
    expect(coral.mesh?.from).toBe('shop');
    expect(coral.limits.minLineMm).toMatchObject({ value: 0.3126, from: 'mesh' });
    expect(coral.limits.minLineMm.rule).toBe(
      'mesh 43/cm, 80 µm: one opening and two threads = 0.31 mm, which governs; without a mesh it would be 0.35 mm (1 pt, the floor for lines on garments)',
    );
    const base = ticket.screenFor('white base');
    expect(base).toMatchObject({ listed: false, role: { value: 'underbase', from: 'shop' } });
    expect(base.mesh?.value.threadsPerCm).toBe(34);
  });

  it('takes a bare ticket', () => {
    const ticket = resolveTicket({ ticket: fixture('bare-ticket.yaml') });
    expect(ticket.garment.colourHex).toEqual({ value: '#1b2a41', from: 'ticket' });
  });
});

describe('resolveTicket in the details', () => {
  it('reads JSON as YAML and ticket values the same either way', () => {
    const yaml = ticketOf('press: { heads: 8 }\nscreens: [{ ink: Coral, mesh: { threadsPerCm: 77, threadUm: 48 } }]');
    const json = ticketOf(
      '{"press":{"heads":8},\n\t"screens":[{"ink":"Coral","mesh":{"threadsPerCm":77,"threadUm":48}}]}',
    );
    expect(JSON.stringify(json)).toBe(JSON.stringify(yaml));
  });

  it('reads a file with a byte order mark and Windows line ends', () => {
    expect(ticketOf('\uFEFFjob: Fête\r\npress:\r\n  heads: 8\r\n')).toMatchObject({
      job: { value: 'Fête' },
      press: { heads: { value: 8, from: 'ticket' } },
    });
  });

  it('follows anchors of ordinary size', () => {
    const ticket = ticketOf(
      'screens:\n  - { ink: Coral, mesh: &m { threadsPerCm: 77, threadUm: 48 } }\n  - { ink: Night, mesh: *m }\n',
    );
    expect(ticket.screens[1].mesh?.value.threadsPerCm).toBe(77);
  });

  it('keeps two inks apart that differ only in their number, and matches neither by guess', () => {
    const ticket = ticketOf('screens:\n  - { ink: Blue 1 }\n  - { ink: Blue 2 }\n');
    expect(ticket.screenFor('blue 2')).toBe(ticket.screens[1]);
    expect(ticket.screenFor('Blue').listed).toBe(false);
  });

  it.each([
    ['White base', 'underbase'],
    ['Underbase', 'underbase'],
    ['Highlight white', 'highlight'],
    ['Black', 'key'],
    ['Basel red', 'colour'],
    ['Blackberry', 'colour'],
    ['White', 'colour'],
  ] as const)('takes %j for %s where nobody says', (name, role) => {
    expect(ticketOf('').screenFor(name).role).toEqual({ value: role, from: 'default' });
  });

  it('converts a count that is no label, and uses it as it is', () => {
    // 120 per inch = 47.244/cm, pitch 211.67 µm; with 76 µm thread 211.67 + 76 = 287.67 µm.
    const ticket = ticketOf('screens: [{ ink: A, mesh: { threadsPerInch: 120, threadUm: 76 } }]');
    expect(ticket.screens[0].limits.minLineMm.value).toBeCloseTo(0.2877, 4);
  });

  it('raises the trap’s ceiling with the trap', () => {
    expect(ticketOf('limits: { trapMm: 0.8 }').screenFor('A').limits.maxTrapMm.value).toBeCloseTo(1.6, 9);
  });

  it('is set by the job’s mesh where a frame names none', () => {
    const ticket = ticketOf('mesh: { threadsPerCm: 62, threadUm: 64 }\nscreens: [{ ink: A }]');
    expect(ticket.screens[0].mesh).toMatchObject({ from: 'ticket', value: { threadsPerCm: 62 } });
    expect(ticket.screenFor('B').mesh?.value.threadsPerCm).toBe(62);
  });
});

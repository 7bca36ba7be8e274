import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { UnreadableFilmError } from '../../../src/artwork/unreadableFilmError.ts';
import { svgReader } from '../../../src/readers/svg/svgReader.ts';
import { readSvg, svgText } from './svgSupport.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const nested = (depth: number) => svgText('<g>'.repeat(depth) + '</g>'.repeat(depth));
const doubled = Array.from({ length: 40 }, (_, i) => `<!ENTITY e${i + 1} "&e${i};&e${i};">`).join('');
const bomb = `<!DOCTYPE svg [<!ENTITY e0 "lol">${doubled}]>${svgText('<desc>&e40;</desc>')}`;
const useBomb = Array.from(
  { length: 20 },
  (_, i) => `<g id="b${i + 1}"><use href="#b${i}"/><use href="#b${i}"/></g>`,
).join('');

const unreadable: readonly (readonly [what: string, content: Uint8Array, code: string])[] = [
  ['no bytes', new Uint8Array(0), 'empty-file'],
  ['only a space', bytes(' '), 'unknown-format'],
  ['a file cut short', bytes(svgText('<g><rect width="5" height="5"/></g>').slice(0, -20)), 'truncated-file'],
  ['tags that cross', bytes(svgText('<g><rect></g></rect>')), 'damaged-file'],
  ['another XML', bytes('<?xml version="1.0"?><html><body/></html>'), 'unknown-format'],
  ['plain words', bytes('not a drawing at all'), 'unknown-format'],
  ['entities that grow without end', bytes(bomb), 'too-complex'],
  [
    'an entity that holds itself',
    bytes(`<!DOCTYPE svg [<!ENTITY a "&b;"><!ENTITY b "&a;">]>${svgText('<desc>&a;</desc>')}`),
    'too-complex',
  ],
  ['elements nested too deep', bytes(nested(1200)), 'too-complex'],
  [
    'clones of clones',
    bytes(svgText(`<defs><g id="b0"><rect width="1" height="1"/></g>${useBomb}</defs><use href="#b20"/>`)),
    'too-complex',
  ],
  [
    'a gzip file cut short',
    gzipSync(bytes(svgText('<rect width="5" height="5"/>'.repeat(50)))).subarray(0, 60),
    'truncated-file',
  ],
  [
    'a gzip file of nonsense',
    new Uint8Array([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3, 255, 255, 255, 1, 2, 3]),
    'damaged-file',
  ],
];

describe('files that cannot be read end in a plain sentence', () => {
  test.each(unreadable)('%s', async (_what, content, code) => {
    const error = await readSvg(content, 'poster.svg').catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(UnreadableFilmError);
    const { code: found, fileName, message, remedy } = error as UnreadableFilmError;
    expect(found).toBe(code);
    expect(fileName).toBe('poster.svg');
    expect(message).toMatch(/^[A-Z].*\.$/s);
    expect(remedy).toMatch(/^[A-Z].*\.$/s);
  });
});

test('deep but honest nesting is read', async () => {
  const film = await readSvg(svgText(`${'<g>'.repeat(900)}<rect id="t" width="5" height="5"/>${'</g>'.repeat(900)}`));
  expect(film.objects.map((one) => one.id)).toEqual(['t']);
});

test('gradients, clips, masks, patterns and markers that refer to themselves end', async () => {
  const film = await readSvg(
    svgText(`<linearGradient id="g1" href="#g2"/><linearGradient id="g2" href="#g1"/>
<clipPath id="c" clip-path="url(#c)"><rect width="20" height="20" clip-path="url(#c)"/></clipPath>
<mask id="m" maskUnits="userSpaceOnUse" width="60" height="40"><rect width="60" height="40" fill="#fff" mask="url(#m)"/></mask>
<pattern id="p" width="5" height="5" patternUnits="userSpaceOnUse"><rect width="3" height="3" fill="url(#p)"/></pattern>
<marker id="k" markerWidth="3" markerHeight="3"><path d="M0 0H2V2Z" marker-end="url(#k)"/></marker>
<rect id="a" width="9" height="9" fill="url(#g1)"/><rect id="b" width="9" height="9" clip-path="url(#c)"/>
<rect id="d" width="9" height="9" mask="url(#m)"/><rect id="e" width="9" height="9" fill="url(#p)"/>
<path id="f" d="M0 0H9" marker-end="url(#k)"/>`),
  );
  expect(film.notes.some((note) => note.code === 'pattern-not-drawn')).toBe(true);
});

test('numbers that are none do not reach the plates', async () => {
  const film = await readSvg(
    svgText(
      '<rect id="a" width="NaN" height="5"/><rect id="b" x="1e400" width="5" height="5"/><path id="c" d="M0 0L1e999 5L5 5Z"/><circle id="d" r="-3"/><rect id="t" width="5" height="5" fill="#c00"/>',
    ),
  );
  expect(film.inks.filter((ink) => ink.used).map((ink) => ink.key)).toContain('#cc0000');
});

test.each([
  ['plain', bytes(svgText('')), true],
  [
    'after a declaration, a comment and a document type',
    bytes('<?xml version="1.0"?><!-- x --><!DOCTYPE svg PUBLIC "a" "b"><svg/>'),
    true,
  ],
  ['with a prefix', bytes('<svg:svg xmlns:svg="http://www.w3.org/2000/svg"/>'), true],
  ['packed', gzipSync(bytes(svgText('<rect/>'.repeat(5000)))).subarray(0, 4096), true],
  ['UTF-16', Buffer.from(`\uFEFF${svgText('')}`, 'utf16le'), true],
  ['PDF', bytes('%PDF-1.7'), false],
  ['a web page', bytes('<html><body><p>'), false],
  ['another packed file', gzipSync(bytes('hello')), false],
  ['nothing', new Uint8Array(0), false],
])('recognises the first bytes: %s', (_what, head, expected) => {
  expect(svgReader.recognises(head)).toBe(expected);
});

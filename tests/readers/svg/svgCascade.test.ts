import { describe, expect, test } from 'vitest';
import { readSvg, svgText } from './svgSupport.ts';

const frame = (css: string, body: string) => svgText(`<style>${css}</style>${body}`);
const target = (more = '') => `<rect id="t" width="10" height="10" ${more}/>`;

/** What colour the element "t" gets; by CSS Cascading 4 and Selectors 4. */
const cases: readonly (readonly [what: string, svg: string, colour: string])[] = [
  ['a class beats a type', frame('.a{fill:#111111}rect{fill:#222222}', target('class="a"')), '#111111'],
  ['an id beats classes', frame('#t{fill:#111111}.a.b.c{fill:#222222}', target('class="a b c"')), '#111111'],
  [
    'eleven classes do not beat an id',
    frame(`#t{fill:#111111}${'.a'.repeat(11)}{fill:#222222}`, target('class="a"')),
    '#111111',
  ],
  ['of equals the later wins', frame('.a{fill:#111111}.b{fill:#222222}', target('class="b a"')), '#222222'],
  ['a sheet beats an attribute', frame('rect{fill:#111111}', target('fill="#222222"')), '#111111'],
  ['a style attribute beats an id', frame('#t{fill:#222222}', target('style="fill:#111111"')), '#111111'],
  [
    'important beats a style attribute',
    frame('rect{fill:#111111 !important}', target('style="fill:#222222"')),
    '#111111',
  ],
  [
    'important in both: the style attribute',
    frame('#t{fill:#222222!important}', target('style="fill:#111111!important"')),
    '#111111',
  ],
  [
    'inherited loses to anything of its own',
    frame('g{fill:#222222!important}rect{fill:#111111}', `<g>${target()}</g>`),
    '#111111',
  ],
  ['inherits through groups', svgText(`<g fill="#111111"><g><g>${target()}</g></g></g>`), '#111111'],
  ['inherit by keyword', frame('rect{fill:inherit}', `<g fill="#111111">${target('fill="#222222"')}</g>`), '#111111'],
  ['initial is black', frame('rect{fill:initial}', `<g fill="#222222">${target()}</g>`), '#000000'],
  ['a child combinator', frame('svg>g>rect{fill:#111111}g rect{fill:#222222}', `<g>${target()}</g>`), '#111111'],
  [
    'a child combinator misses grandchildren',
    frame('svg>rect{fill:#222222}', `<g fill="#111111">${target()}</g>`),
    '#111111',
  ],
  ['a descendant', frame('.out rect{fill:#111111}', `<g class="out"><g>${target()}</g></g>`), '#111111'],
  ['a next sibling', frame('circle+rect{fill:#111111}', `<circle r="1" fill="none"/>${target()}`), '#111111'],
  ['any later sibling', frame('circle~rect{fill:#111111}', `<circle r="1" fill="none"/><g/>${target()}`), '#111111'],
  ['an attribute', frame('[data-role="ink"]{fill:#111111}', target('data-role="ink"')), '#111111'],
  [
    'part of an attribute',
    frame('[data-role^="in"][data-role$="k"]{fill:#111111}', target('data-role="ink"')),
    '#111111',
  ],
  ['nth-child', frame('g>:nth-child(3n+2){fill:#111111}', `<g><circle fill="none"/>${target()}</g>`), '#111111'],
  [
    'nth-last-child and of-type',
    frame('rect:nth-last-child(2):first-of-type{fill:#111111}', `<g>${target()}<circle fill="none"/></g>`),
    '#111111',
  ],
  ['not', frame('rect:not(.b){fill:#111111}', target('class="a"')), '#111111'],
  [
    'is takes the specificity of its strongest',
    frame(':is(rect,#no){fill:#111111}.a{fill:#222222}', target('class="a"')),
    '#111111',
  ],
  ['where has none', frame(':where(#t){fill:#222222}rect{fill:#111111}', target()), '#111111'],
  ['an unknown pseudo-class selects nothing', frame('rect:hover{fill:#222222}rect{fill:#111111}', target()), '#111111'],
  ['media print holds', frame('@media print{rect{fill:#111111}}', target('fill="#222222"')), '#111111'],
  ['media screen does not', frame('@media screen{rect{fill:#222222}}', target('fill="#111111"')), '#111111'],
  ['an invalid declaration is ignored', frame('rect{fill:#111111;fill:no-colour}', target()), '#111111'],
  [
    'a broken rule does not spoil the next',
    frame('rect{fill:;;}}.a{fill:#222222 rect{fill:#111111}', `${target('style="fill:#111111"')}`),
    '#111111',
  ],
  ['a comment inside CDATA', svgText(`<style><![CDATA[/* > */ rect{fill:#111111}]]></style>${target()}`), '#111111'],
  ['a variable of an ancestor', frame('g{--c:#111111}rect{fill:var(--c)}', `<g>${target()}</g>`), '#111111'],
  [
    'a variable overridden nearer',
    frame('g{--c:#222222}rect{--c:#111111;fill:var(--c)}', `<g>${target()}</g>`),
    '#111111',
  ],
  ['a variable loop falls back', frame('rect{--a:var(--b);--b:var(--a);fill:var(--a,#111111)}', target()), '#111111'],
  [
    'currentColor of the element',
    svgText(`<g color="#222222">${target('color="#111111" fill="currentColor"')}</g>`),
    '#111111',
  ],
  ['eight hex digits', svgText(target('fill="#111111ff"')), '#111111'],
  ['a paint server that is missing, with fallback', svgText(target('fill="url(#no) #111111"')), '#111111'],
  ['an icc fallback', svgText(target('fill="#111111 icc-color(shop, 0.1, 0.2)"')), '#111111'],
];

describe('the cascade', () => {
  test.each(cases)('%s', async (_what, svg, colour) => {
    const film = await readSvg(svg);
    const object = film.objects.find((one) => one.id === 't');
    expect(object?.inks.map((ink) => ink.key)).toEqual([colour]);
  });
});

/** Width of a rectangle in mm; 1 in = 25.4 mm, 1 px = 1/96 in (CSS Values and Units 4, 6.2). The viewBox unit is 1 px. */
const lengths: readonly (readonly [text: string, mm: number])[] = [
  ['96', 25.4],
  ['96px', 25.4],
  ['1in', 25.4],
  ['12mm', 12],
  ['1.2cm', 12],
  ['48Q', 12],
  ['72pt', 25.4],
  ['6pc', 25.4],
  ['2em', (2 * 20 * 25.4) / 96],
  ['2ex', (20 * 25.4) / 96],
  ['2rem', (2 * 16 * 25.4) / 96],
  ['10%', 20],
  ['1e1mm', 10],
  ['.5in', 12.7],
  ['+5mm', 5],
];

test.each(lengths)('a length of %s is %d mm', async (text, mm) => {
  const film = await readSvg(
    svgText(
      `<g font-size="20"><rect id="t" width="${text}" height="5" fill="#000"/></g>`,
      'width="200mm" height="50mm"',
    ),
  );
  expect(film.objects.find((one) => one.id === 't')?.boxMm.widthMm).toBeCloseTo(mm, 6);
});

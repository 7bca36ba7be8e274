import { describe, expect, it } from 'vitest';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import { type TicketProblem, WrongTicketError } from '../../src/ticket/ticket.ts';

function errorOf(ticket: string, shop?: string): WrongTicketError {
  try {
    resolveTicket({
      ticket: { fileName: 'job.yaml', text: ticket },
      ...(shop === undefined ? {} : { shop: { fileName: 'shop.yaml', text: shop } }),
    });
  } catch (error) {
    if (error instanceof WrongTicketError) return error;
    throw error;
  }
  throw new Error('The ticket was accepted.');
}

function problemsOf(ticket: string, shop?: string): readonly TicketProblem[] {
  return errorOf(ticket, shop).problems;
}

describe('a wrong value', () => {
  it.each([
    ['press: { heads: six }', 'press.heads', 'a whole number of print heads, 1 to 24', 'the text "six"'],
    ['press: { heads: 6.5 }', 'press.heads', 'a whole number of print heads, 1 to 24', '6.5'],
    ['press: { heads: 0 }', 'press.heads', 'a whole number of print heads, 1 to 24', '0'],
    ['press: { heads: .nan }', 'press.heads', 'a whole number of print heads, 1 to 24', 'NaN'],
    ['print: { widthMm: .inf }', 'print.widthMm', 'a length in mm, 1 to 5000', 'Infinity'],
    ['print: { widthMm: -300 }', 'print.widthMm', 'a length in mm, 1 to 5000', '-300'],
    ['print: { widthMm: "300" }', 'print.widthMm', 'a length in mm, 1 to 5000', 'the text "300"'],
    ['print: { widthMm: 300 mm }', 'print.widthMm', 'a length in mm, 1 to 5000', 'the text "300 mm"'],
    ['film: { marks: outside }', 'film.marks', 'one of inArt, addedAtOutput', 'the text "outside"'],
    ['limits: { scalePercent: 101 }', 'limits.scalePercent', 'a share in percent, 0 to 100', '101'],
    [
      'screens: [{ ink: A, role: base }]',
      'screens[0].role',
      'one of underbase, colour, key, highlight',
      'the text "base"',
    ],
    ['screens: { ink: A }', 'screens', 'a list of frames, each with ink, role and mesh', 'a group of keys'],
    [
      'print: [300, 360]',
      'print',
      'a group of keys: widthMm, heightMm, quantity, location, viewingDistanceMm, placement',
      'a list of 2',
    ],
    [
      'print:',
      'print',
      'a group of keys: widthMm, heightMm, quantity, location, viewingDistanceMm, placement',
      'nothing',
    ],
    ['job: ""', 'job', 'the name of the job', 'the text ""'],
    ['job: 7', 'job', 'the name of the job', '7'],
    [
      'press: { platenMm: [400] }',
      'press.platenMm',
      'width and height of the platen in mm, such as [400, 450]',
      'a list of 1',
    ],
    ['press: { platenMm: [400, tall] }', 'press.platenMm[1]', 'a length in mm, 20 to 3000', 'the text "tall"'],
    ['limits: { trapMm: 0.5, maxTrapMm: 0.2 }', 'limits.maxTrapMm', 'at least trapMm, 0.5', '0.2'],
  ])('%s', (text, path, expected, received) => {
    expect(problemsOf(text)).toEqual([{ path, expected, received }]);
  });

  it('explains a colour lost to a comment', () => {
    const [problem] = problemsOf('garment:\n  colour: #1b2a41\n');
    expect(problem).toMatchObject({ path: 'garment.colour', received: 'nothing' });
    expect(problem.expected).toContain('without quotes YAML takes # for a comment');
  });

  it.each(['"#12345"', '"1b2a41"', 'lagoonish', '"#1b2a41; x"'])('refuses the colour %s', (colour) => {
    expect(problemsOf(`garment: { colour: ${colour} }`).map((problem) => problem.path)).toEqual(['garment.colour']);
  });
});

describe('an unknown key', () => {
  it.each([
    ['garment: { color: "#ffffff" }', 'garment.color', 'colour'],
    ['print: { width: 300 }', 'print.width', 'widthMm'],
    ['limits: { minLinemm: 0.3 }', 'limits.minLinemm', 'minLineMm'],
    ['screens: [{ ink: A, mesh: { threadPerCm: 43, threadUm: 80 } }]', 'screens[0].mesh.threadPerCm', 'threadsPerCm'],
    ['sreens: []', 'sreens', 'screens'],
  ])('%s', (text, path, key) => {
    expect(problemsOf(text)).toMatchObject([{ path, expected: `no such key; did you mean ${key}?` }]);
  });

  it('lists the keys there are when none is near', () => {
    expect(problemsOf('garment: { sleeves: long }')[0].expected).toBe('no such key; one of colour, fabric');
  });

  it('keeps keys of objects out', () => {
    expect(problemsOf('__proto__: { heads: 3 }\nconstructor: 2').map((problem) => problem.path)).toEqual([
      '__proto__',
      'constructor',
    ]);
    expect(({} as { heads?: number }).heads).toBeUndefined();
  });

  it('is any key of the shop’s in a ticket', () => {
    expect(problemsOf('frames: []').map((problem) => problem.path)).toEqual(['frames']);
  });
});

describe('a wrong frame', () => {
  it.each([
    ['{ role: key }', 'screens[0].ink', 'nothing'],
    ['{ ink: A, mesh: { threadUm: 80 } }', 'screens[0].mesh.threadsPerCm', 'nothing'],
    ['{ ink: A, mesh: { threadsPerCm: 43, threadsPerInch: 110, threadUm: 80 } }', 'screens[0].mesh', 'both'],
    ['{ ink: A, mesh: { threadsPerCm: 100, threadUm: 100 } }', 'screens[0].mesh.threadUm', '100'],
    ['{ ink: A, mesh: { threadsPerCm: 5 } }', 'screens[0].mesh.threadUm', 'nothing'],
    ['{ ink: A, mesh: { threadsPerCm: 43, threadUm: 80, openingUm: 200 } }', 'screens[0].mesh.openingUm', '200'],
    ['{ ink: A, mesh: fine }', 'screens[0].mesh', 'the text "fine"'],
    ['{ ink: A, mesh: 110 }', 'screens[0].mesh', '110'],
    ['{ ink: A, limits: { maxInks: 3 } }', 'screens[0].limits.maxInks', '3'],
    ['{ ink: A }, { ink: a }', 'screens[1].ink', 'the text "a"'],
  ])('%s', (frames, path, received) => {
    expect(problemsOf(`screens: [${frames}]`)).toMatchObject([{ path, received }]);
  });
});

describe('several problems', () => {
  it('are told all at once, each once, in a ticket that is wrong through and through', () => {
    const text = `
garment: { color: "#fff" }
press: { heads: six }
screens:
  - { ink: A, mesh: { threadsPerCm: 43, threadUm: 300 } }
  - { ink: a, mesh: { threadPerCm: 43 } }
  - {}
  - 5
  - { ink: B, mesh: { threadsPerCm: 43, threadUm: "80" } }
  - { ink: C, mesh: nope }
`;
    const error = errorOf(text);
    expect(error.fileName).toBe('job.yaml');
    expect(error.problems.map((problem) => problem.path).sort()).toEqual([
      'garment.color',
      'press.heads',
      'screens[0].mesh.threadUm',
      'screens[1].ink',
      'screens[1].mesh.threadPerCm',
      'screens[2].ink',
      'screens[3]',
      'screens[4].mesh.threadUm',
      'screens[5].mesh',
    ]);
    expect(error.message).toContain('9 problem');
  });

  it('name their file when both files are wrong', () => {
    const error = errorOf('press: { heads: six }', 'meshes: [{ name: fine, threadsPerCm: 120, threadUm: 90 }]');
    expect(error.problems.map((problem) => problem.path)).toEqual([
      'job.yaml: press.heads',
      'shop.yaml: meshes[0].threadUm',
    ]);
  });

  it('are the shop file’s alone when only that is wrong, whatever names the ticket uses', () => {
    const error = errorOf('press: { name: Hand bench }\nscreens: [{ ink: A, mesh: fine }]', 'foo: 1');
    expect(error.fileName).toBe('shop.yaml');
    expect(error.problems.map((problem) => problem.path)).toEqual(['foo']);
  });

  it('say which meshes and presses there are', () => {
    const shop = 'meshes: [{ name: fine, threadsPerCm: 120, threadUm: 34 }]\npresses: [{ name: Six heads, heads: 6 }]';
    expect(problemsOf('press: { name: Ten }\nscreens: [{ ink: A, mesh: finer }]', shop)).toMatchObject([
      { path: 'press.name', expected: 'a press of the shop file: Six heads' },
      { path: 'screens[0].mesh', expected: 'a mesh of the shop file: fine' },
    ]);
  });

  it('refuse a name given twice in the shop’s file', () => {
    const shop =
      'frames: [{ name: a, insideWidthMm: 500, insideHeightMm: 600 }, { name: A, insideWidthMm: 500, insideHeightMm: 600 }]';
    expect(problemsOf('', shop)).toMatchObject([{ path: 'frames[1].name' }]);
  });
});

describe('a text that is no ticket', () => {
  it.each([
    ['job: [', 'YAML or JSON', 'line 1, column 7'],
    ['{"job": "A",}}', 'YAML or JSON', 'line 1'],
    ['press: { heads: 6 }\npress: { heads: 8 }', 'each key once', 'line 2, column 1: the key "press" a second time'],
    ['{"job":"A","job":"B"}', 'each key once', 'line 1'],
    ['job: A\n---\njob: B', 'one ticket a file', 'line 2'],
    ['job: !!js/function x', 'YAML or JSON', 'line 1'],
    ['job: *nobody', '', ''],
    ['job: a\u0000b', 'a text file', 'bytes that are not text'],
    ['[1, 2]', 'a group of keys', 'a list of 2'],
    ['hello', 'a group of keys', 'the text "hello"'],
  ])('%j', (text, expected, received) => {
    const problems = problemsOf(text);
    expect(problems.length).toBeGreaterThan(0);
    expect(problems[0].path).toBe('');
    expect(problems[0].expected).toContain(expected);
    expect(problems[0].received).toContain(received);
  });

  const levels = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
  const bomb = levels
    .map((name, index) => {
      const item = index === 0 ? 'x' : `*${levels[index - 1]}`;
      return `${name}: &${name} [${Array.from({ length: 9 }, () => item).join(', ')}]`;
    })
    .join('\n');

  it.each([
    ['aliases that multiply', bomb],
    ['an alias within its own anchor', 'a: &a [*a]'],
    ['a wall of brackets', '['.repeat(100_000)],
    ['a wall of braces', '{"a":'.repeat(30_000)],
    ['a wall of dashes', `${'- '.repeat(50_000)}x`],
    ['deep indentation', Array.from({ length: 600 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n')],
    ['a very long text', `job: ${'x'.repeat(300_000)}`],
    ['a thousand unknown keys', Array.from({ length: 1000 }, (_, index) => `key${index}: 1`).join('\n')],
  ])('ends quickly on %s', (_name, text) => {
    const started = Date.now();
    expect(problemsOf(text).length).toBeGreaterThan(0);
    expect(Date.now() - started).toBeLessThan(5000);
  });
});

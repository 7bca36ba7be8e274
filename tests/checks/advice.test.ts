import { describe, expect, it } from 'vitest';
import type { AnyCheck } from '../../src/checks/check.ts';
import { extraInk } from '../../src/checks/extra-ink.ts';
import { lostIsland } from '../../src/checks/lost-island.ts';
import { semiOpaquePositive } from '../../src/checks/semi-opaque-positive.ts';
import { smallDot } from '../../src/checks/small-dot.ts';
import { thinGap } from '../../src/checks/thin-gap.ts';
import { thinLine } from '../../src/checks/thin-line.ts';
import { unnamedInk } from '../../src/checks/unnamed-ink.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';
import type { AskSpec } from '../support/askFixture.ts';
import { askOf, narrowAt, spotAt } from '../support/askFixture.ts';

function findingOf(check: AnyCheck, spec: AskSpec) {
  return runCheck(check, askOf(spec)).findings[0];
}

describe('advice', () => {
  const narrow = [narrowAt(0.2), narrowAt(0.21, 50)];
  const spots = [spotAt(0.2), spotAt(0.21, 50)];
  it.each([
    ['line', thinLine, (count: number) => ({ lines: narrow.slice(0, count) })],
    ['gap', thinGap, (count: number) => ({ gaps: narrow.slice(0, count) })],
    ['dot', smallDot, (count: number) => ({ dots: spots.slice(0, count) })],
    ['small hole', lostIsland, (count: number) => ({ islands: spots.slice(0, count) })],
  ] as const)('speaks of one %s in the singular and of two in the plural', (what, check, detail) => {
    const said = (count: number) => findingOf(check, { plates: [{ ink: 'Coral', detail: detail(count) }] }).advice;
    expect(said(1).customer).toMatch(new RegExp(`^A ${what} in Coral will [^.]*: it is 0\\.20 mm (?:wide|across)\\.`));
    expect(said(1).customer).toMatch(/ it to at least /);
    expect(said(1).customer).not.toMatch(/\bthem\b/);
    expect(said(2).customer).toMatch(new RegExp(`^2 ${what}s in Coral will [^.]*est at 0\\.20 mm\\.`));
    expect(said(1).printer).not.toMatch(/\b(?:these|them)\b/i);
  });

  it('tells the colours of inks without a name inside a list, without brackets in brackets', () => {
    const { advice, inkNames } = findingOf(extraInk, {
      inks: ['#b3202c', '#1b2a41', 'note-0'].map((name) => ({ name, kind: 'flat', displayHex: '#b3202c' })),
      ticket: { limits: { maxInks: 2 } },
    });
    expect(inkNames).toEqual(['#b3202c', '#1b2a41', 'note-0']);
    expect(advice.customer).toContain('(the red #b3202c, the navy #1b2a41 and note-0)');
    expect(advice.printer).toContain('agree 3 inks and put them on the ticket');
  });

  it('begins a sentence with a capital, and names one article', () => {
    const { advice } = findingOf(unnamedInk, { inks: [{ name: '#b3202c', kind: 'flat', displayHex: '#b3202c' }] });
    expect(advice.customer).toMatch(/^The red #b3202c has no ink name\. /);
    expect(advice.printer).toMatch(/^Name the ink for the red #b3202c /);
  });

  it('says a single tone once', () => {
    const grey = { semiOpaquePercent: 10, toneMinPercent: 70, toneMaxPercent: 70 };
    const { details } = findingOf(semiOpaquePositive, { inks: ['Night'], plates: [{ ink: 'Night', opacity: grey }] });
    expect(details).toEqual(['a tone of 70 %']);
  });
});

import { describe, expect, it } from 'vitest';
import type { AnyCheck } from '../../src/checks/check.ts';
import { judgeAtLeast } from '../../src/checks/judge.ts';
import type { Reading } from '../../src/findings/finding.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';
import { askOf, boxAt, overlapOf, readingOf } from '../support/askFixture.ts';

/** A check of made-up readings against 0.30 mm. */
function checkOf(more: Partial<AnyCheck>): AnyCheck {
  return {
    id: 'made-up',
    title: 'All is wide',
    failTitle: 'Something is narrow',
    asks: 'Is all of it wide?',
    sources: [{ kind: 'commonPractice', statement: 'wide is good' }],
    scope: 'job',
    worse: 'less',
    limit: () => ({ value: 0.3, unit: 'mm', from: 'default', rule: 'wide', source: 'common practice, no source' }),
    measure: () => [],
    judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'narrow', close: 'close' }),
    advice: {
      narrow: {
        customer: ({ reading, limit }) => `${reading.value} is less than ${limit.value}.`,
        printer: ({ placesTotal }) => `${placesTotal} places.`,
      },
      close: { customer: () => 'Perhaps.', printer: () => 'Look.' },
    },
    ...more,
  };
}

function widths(...values: (number | Reading)[]): AnyCheck {
  return checkOf({
    measure: () => values.map((value) => (typeof value === 'number' ? readingOf(value, 'mm') : value)),
  });
}

const at = (value: number, more: Partial<Reading> = {}) =>
  readingOf(value, 'mm', {
    filmId: 'f1',
    boxMm: boxAt(value * 100, 5),
    inkNames: ['Coral'],
    plateIds: ['p-Coral'],
    ...more,
  });

describe('runCheck', () => {
  it('passes when every reading is clear of the limit, and tells the tightest', () => {
    const result = runCheck(widths(0.9, 0.31, 0.5), askOf());
    expect(result).toMatchObject({ outcome: 'pass', title: 'All is wide', why: null, findings: [], readingsTotal: 3 });
    expect(result.tightest).toMatchObject({ value: 0.31, unit: 'mm', limit: { value: 0.3 } });
    expect(result.sources).toEqual(['Common practice, no source: wide is good']);
  });

  it('judges three ways by the error bar of each reading', () => {
    const outcomeOf = (value: number, plusMinus: number) =>
      runCheck(widths(readingOf(value, 'mm', { plusMinus })), askOf()).outcome;
    expect(outcomeOf(0.32, 0.02)).toBe('pass');
    expect(outcomeOf(0.319, 0.02)).toBe('needsReview');
    expect(outcomeOf(0.28, 0.02)).toBe('needsReview');
    expect(outcomeOf(0.279, 0.02)).toBe('fail');
    expect(outcomeOf(0.3, 0)).toBe('pass');
  });

  it('gathers readings of one code and ink, worst first, and keeps other inks apart', () => {
    const result = runCheck(
      widths(
        at(0.25),
        at(0.1, { detail: 'one' }),
        at(0.2, { inkNames: ['Night'], plateIds: [] }),
        at(0.2, { detail: 'one' }),
        at(0.9),
      ),
      askOf(),
    );
    expect(result.outcome).toBe('fail');
    expect(result.title).toBe('Something is narrow');
    expect(result.findings).toHaveLength(2);
    const [coral, night] = result.findings;
    expect(coral).toMatchObject({ code: 'narrow', inkNames: ['Coral'], plateIds: ['p-Coral'], placesTotal: 3 });
    expect(coral.measured?.value).toBe(0.1);
    expect(coral.places.map(({ value, xMm }) => [value, xMm])).toEqual([
      [0.1, 10],
      [0.2, 20],
      [0.25, 25],
    ]);
    expect(coral.details).toEqual(['one']);
    expect(coral.advice).toEqual({ customer: '0.1 is less than 0.3.', printer: '3 places.' });
    expect(night.measured?.value).toBe(0.2);
    expect(result.tightest?.value).toBe(0.1);
  });

  it('lists at most 200 places and 12 details, and counts all places', () => {
    const many = Array.from({ length: 250 }, (_, index) => at(0.2 - index / 10_000, { detail: `line ${index}` }));
    const [finding] = runCheck(widths(...many), askOf()).findings;
    expect(finding.placesTotal).toBe(250);
    expect(finding.places).toHaveLength(200);
    expect(finding.places[0].value).toBeCloseTo(0.1751, 9);
    expect(finding.details).toHaveLength(12);
  });

  it('gives each part of a reading its place, and the focus where there is one', () => {
    const parts = [
      { boxMm: boxAt(1, 2, 3, 4), focusMm: { xMm: 2, yMm: 3 }, value: 7 },
      { boxMm: boxAt(5, 6), value: 8 },
    ];
    const [finding] = runCheck(widths(at(0.1, { boxMm: null, parts })), askOf()).findings;
    expect(finding.placesTotal).toBe(2);
    expect(finding.places[0]).toEqual({
      filmId: 'f1',
      xMm: 1,
      yMm: 2,
      widthMm: 3,
      heightMm: 4,
      focusXMm: 2,
      focusYMm: 3,
      value: 7,
    });
    expect(finding.places[1]).toEqual({ filmId: 'f1', xMm: 5, yMm: 6, widthMm: 2, heightMm: 2, value: 8 });
  });

  it('turns an error into couldNotRun with the reason, whatever throws it', () => {
    const broken = checkOf({
      *measure() {
        yield readingOf(0.1, 'mm');
        throw new Error('no such plate');
      },
    });
    const result = runCheck(broken, askOf());
    expect(result).toMatchObject({ outcome: 'couldNotRun', findings: [], tightest: null });
    expect(result.why).toMatch(/no such plate/);
    const nonError = checkOf({
      limit: () => {
        throw 'out of paper';
      },
    });
    expect(runCheck(nonError, askOf()).why).toMatch(/out of paper/);
  });

  it('refuses a reading in another unit than its limit, and one that is no number', () => {
    expect(runCheck(widths(readingOf(0.1, 'percent')), askOf())).toMatchObject({
      outcome: 'couldNotRun',
      why: expect.stringMatching(/percent.*mm/),
    });
    expect(runCheck(widths(Number.NaN), askOf()).outcome).toBe('couldNotRun');
    expect(runCheck(widths(readingOf(0.5, 'mm', { plusMinus: -1 })), askOf()).outcome).toBe('couldNotRun');
  });

  it('never passes when nothing was read', () => {
    expect(runCheck(widths(), askOf())).toMatchObject({ outcome: 'notApplicable', why: expect.stringMatching(/./) });
    const noLimit = checkOf({ limit: () => ({ why: 'The ticket sets none.' }), measure: () => [readingOf(0.1, 'mm')] });
    expect(runCheck(noLimit, askOf())).toMatchObject({
      outcome: 'notApplicable',
      title: 'Is all of it wide?',
      why: 'The ticket sets none.',
      readingsTotal: 0,
    });
    const nothing = checkOf({ measure: () => [{ why: 'Nothing there.' }] });
    expect(runCheck(nothing, askOf())).toMatchObject({ outcome: 'notApplicable', why: 'Nothing there.' });
  });

  it('asks for review of what could not be measured, with the reason, even beside readings that pass', () => {
    const part = { reason: 'Half of it is torn.', plateIds: [], inkNames: ['Coral'], filmId: 'f1', boxMm: null };
    const check = checkOf({ measure: () => [part, readingOf(0.9, 'mm'), part] });
    const result = runCheck(check, askOf());
    expect(result).toMatchObject({ outcome: 'needsReview', why: 'Half of it is torn.', readingsTotal: 1 });
    expect(result.findings).toHaveLength(1);
    expect(result.findings[0]).toMatchObject({
      code: 'not-measured',
      measured: null,
      details: ['Half of it is torn.'],
    });
    expect(result.findings[0].advice.printer).toContain('Half of it is torn.');
  });

  it('lets no reading on a plate that is not verified pass, and lets it fail', () => {
    const ask = askOf({ plates: [{ ink: 'Coral', doubts: ['A blend is missing.'] }] });
    const passing = runCheck(widths(at(0.9)), ask);
    expect(passing.outcome).toBe('needsReview');
    expect(passing.findings[0]).toMatchObject({
      code: 'not-verified',
      details: ['A blend is missing.'],
      placesTotal: 1,
    });
    expect(runCheck(widths(at(0.1)), ask)).toMatchObject({ outcome: 'fail', findings: [{ code: 'narrow' }] });
    expect(runCheck(widths(at(0.9, { plateIds: [] })), ask).outcome).toBe('pass');
  });

  it('lets it pass when it would pass whatever is missing from the plate', () => {
    const ask = askOf({ plates: [{ ink: 'Coral', doubts: ['A blend is missing.'] }] });
    expect(runCheck(widths(at(0.9, { atWorst: 0.4 })), ask).outcome).toBe('pass');
    const below = runCheck(widths(at(0.9, { atWorst: 0.2 })), ask);
    expect(below.findings[0]).toMatchObject({ code: 'not-verified', measured: { value: 0.9 } });
    expect(runCheck(widths(at(0.9, { atWorst: 0.4, doubt: 'A guess.' })), ask).outcome).toBe('needsReview');
  });

  it('gives findings that wait on a plate the doubts alone, its inks and its plates, to be gathered by', () => {
    const ask = askOf({ plates: [{ ink: 'Coral', doubts: ['A blend is missing.', 'A mask is missing.'] }] });
    const doubts = ['A blend is missing.', 'A mask is missing.'];
    const waiting = {
      code: 'not-verified',
      plateIds: ['p-Coral'],
      inkNames: ['Coral'],
      details: doubts,
      waitingOn: doubts,
    };
    const [read] = runCheck(widths(at(0.9, { detail: 'the neck of the fiddle' })), ask).findings;
    expect(read).toMatchObject(waiting);
    const [silent] = runCheck(checkOf({ scope: 'plate' }), ask).findings;
    expect(silent).toMatchObject({ ...waiting, measured: null });
  });

  it('does not take silence on an unverified plate for nothing there', () => {
    const silent = checkOf({ scope: 'plate' });
    expect(runCheck(silent, askOf()).outcome).toBe('notApplicable');
    const ask = askOf({ plates: [{ ink: 'Coral', doubts: ['A blend is missing.'] }] });
    expect(runCheck(silent, ask)).toMatchObject({
      outcome: 'needsReview',
      why: expect.stringMatching(/A blend is missing/),
    });
  });

  it('keeps a doubted reading from failing and from passing', () => {
    const doubt = 'The size is a guess.';
    expect(runCheck(widths(at(0.1, { doubt })), askOf())).toMatchObject({
      outcome: 'needsReview',
      findings: [{ code: 'narrow', details: [doubt] }],
    });
    expect(runCheck(widths(at(0.9, { doubt })), askOf())).toMatchObject({
      outcome: 'needsReview',
      findings: [{ code: 'in-doubt', details: [doubt] }],
    });
  });

  it('says the colour of an ink nobody named, and leaves names as they are written', () => {
    const about = (name: string) => {
      const check = checkOf({
        measure: () => [at(0.1, { inkNames: [name] })],
        advice: {
          narrow: {
            customer: ({ reading }) => `${reading.inkNames[0]} is narrow.`,
            printer: ({ reading }) => `Widen ${reading.inkNames[0]}.`,
          },
          close: { customer: () => 'Perhaps.', printer: () => 'Look.' },
        },
      });
      const [{ advice, inkNames }] = runCheck(check, askOf()).findings;
      return [advice.customer, advice.printer, ...inkNames];
    };
    expect(about('#b3202c')).toEqual(['The red #b3202c is narrow.', 'Widen the red #b3202c.', '#b3202c']);
    expect(about('note-0')).toEqual(['note-0 is narrow.', 'Widen note-0.', 'note-0']);
  });

  it('says of a lower bound that it is one, and does not fail on it', () => {
    expect(runCheck(widths(at(1, { atLeast: true })), askOf()).tightest).toMatchObject({ value: 1, atLeast: true });
    const below = runCheck(widths(at(0.1, { atLeast: true })), askOf());
    expect(below).toMatchObject({ outcome: 'needsReview', findings: [{ code: 'close', measured: null }] });
  });

  it('shows the derived value and its own limit when that was judged, and leaves it out of the tightest', () => {
    const shown = {
      value: 7,
      plusMinus: 0,
      worse: 'more' as const,
      limit: {
        value: 5,
        unit: 'mm' as const,
        from: 'default' as const,
        rule: 'short',
        source: 'common practice, no source',
      },
    };
    const check = checkOf({
      measure: () => [at(0.2), readingOf(0.9, 'mm')],
      judge: ({ value }) => (value < 0.5 ? { outcome: 'fail', code: 'narrow', shown } : { outcome: 'pass' }),
    });
    const result = runCheck(check, askOf());
    expect(result.findings[0]).toMatchObject({ measured: { value: 7 }, limit: { value: 5 }, places: [{ value: 7 }] });
    expect(result.findings[0].advice.customer).toBe('7 is less than 5.');
    expect(result.tightest?.value).toBe(0.9);
  });

  it('asks about each plate and each pair in turn', () => {
    const asked: string[][] = [];
    const noting = (scope: 'plate' | 'pair') =>
      checkOf({
        scope,
        measure: (_ask, subject) => {
          asked.push(
            subject.scope === 'plate'
              ? [subject.plate.id]
              : subject.scope === 'pair'
                ? subject.plates.map(({ id }) => id)
                : [],
          );
          return [];
        },
      });
    const ask = askOf({ inks: ['Coral', 'Night'], overlaps: [overlapOf('Night', 'Coral')] });
    runCheck(noting('plate'), ask);
    runCheck(noting('pair'), ask);
    expect(asked).toEqual([['p-Coral'], ['p-Night'], ['p-Night', 'p-Coral']]);
    expect(runCheck(noting('pair'), askOf({ overlaps: [overlapOf('Night', 'Coral')] })).outcome).toBe('couldNotRun');
  });
});

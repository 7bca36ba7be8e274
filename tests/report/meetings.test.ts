import { describe, expect, it } from 'vitest';
import { factsOfBase, topsOfBase } from '../../src/report/baseFacts.ts';
import { digestOf } from '../../src/report/digest.ts';
import { factsOfMeeting, type MeasuredFact } from '../../src/report/meetingFacts.ts';
import { type Meeting, meetingsOf } from '../../src/report/meetings.ts';
import { apartWords, leadOfMeetings, rowOfMeeting } from '../../src/report/meetingWords.ts';
import type { ReportJson, ReportPair } from '../../src/report/reportJson.ts';
import { pairFixture, underbaseFixture } from '../support/fixtureMeetings.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const wording = { gap: ' ', isBrief: false };
const { report } = inspectionFixture();
/** The fixture job, p1 White base, p2 Coral, p3 Lagoon, p4 Night, with pairs and base of one's own. */
const withPairs = (pairs: readonly ReportPair[], underbase: ReportJson['underbase'] = null): ReportJson => ({
  ...report,
  pairs,
  underbase,
});
const meet = (shown: ReportJson) => meetingsOf(shown, digestOf(shown));
const inksOf = (meetings: readonly Meeting[]) => meetings.map(({ inksAsPrinted }) => inksAsPrinted.join(' / '));
const valuesOf = (facts: readonly MeasuredFact[]) => Object.fromEntries(facts.map(({ term, value }) => [term, value]));

describe('the pairs of a report', () => {
  it('begin with those something was found about, then the least overlap', () => {
    const { found, fine } = meet(
      withPairs([
        pairFixture(['p1', 'p4'], [], { overprintAreaMm2: 40 }),
        pairFixture(['p1', 'p2'], [[0.5, 10]]),
        pairFixture(['p3', 'p4'], [[0.3, 500]]),
        pairFixture(['p2', 'p3'], [[0.08, 60]]),
      ]),
    );
    expect(inksOf(found)).toEqual(['Coral / Lagoon']);
    expect(found[0].entries.map(({ check }) => check.id)).toEqual(['short-trap']);
    expect(inksOf(fine)).toEqual(['Lagoon / Night', 'White base / Coral', 'White base / Night']);
  });

  it('stand in the order of the findings; of one finding that with most edge short of its trap first', () => {
    const shortTrap = report.checks.find(({ id }) => id === 'short-trap')!;
    const about = (plateIds: readonly string[], inkNames: readonly string[]) => ({
      ...shortTrap.findings[0],
      plateIds,
      inkNames,
      places: [],
      placesTotal: 0,
    });
    const findings = [
      about(['p2', 'p3'], ['a', 'b']),
      about(['p2', 'p4'], ['a', 'c']),
      about(['p3', 'p4'], ['b', 'c']),
    ];
    const gap = {
      ...shortTrap,
      id: 'open-gap',
      findings: [{ ...about(['p1', 'p2'], ['d', 'a']), measured: { value: 0, unit: 'mm', plusMinus: 0 } as const }],
    };
    const { found } = meet({
      ...withPairs([
        pairFixture(['p2', 'p3'], [[0.1, 20]]),
        pairFixture(
          ['p2', 'p4'],
          [
            [-0.1, 10],
            [0.1, 80],
            [0.4, 900],
          ],
        ),
        pairFixture(['p3', 'p4'], [[0.1, 50]]),
        pairFixture(['p1', 'p2'], [[-0.3, 5]]),
      ]),
      checks: [{ ...shortTrap, findings }, gap],
    });
    expect(inksOf(found)).toEqual(['White base / Coral', 'Coral / Night', 'Lagoon / Night', 'Coral / Lagoon']);
  });

  it('leave out those with the base, and count those that share nothing', () => {
    const shown = withPairs(
      [
        pairFixture(['p1', 'p2'], [], { overprintAreaMm2: 900 }),
        pairFixture(['p2', 'p3'], [[0.3, 60]]),
        pairFixture(['p2', 'p4'], [], { sharedAreaMm2: 28 }),
      ],
      underbaseFixture('p1', ['p2', 'p3', 'p4']),
    );
    const meetings = meet(shown);
    expect(inksOf([...meetings.found, ...meetings.fine])).toEqual(['Coral / Lagoon']);
    expect(meetings.apartTotal).toBe(1);
    expect(apartWords(1)).toBe('1 more pair shares no edge and, registration marks aside, no area.');
    expect(leadOfMeetings(meetings).replaceAll('\u00a0', ' ')).toBe(
      '1 pair of inks shares an edge, 60.0 mm (2.4 in) in all.',
    );
  });

  it('are measured against the larger trap of their two inks', () => {
    const screens = report.ticket.screens.map((frame) => {
      const value = frame.ink === 'Night' ? 0.4 : frame.ink === 'Coral' ? 0 : 0.25;
      return { ...frame, limits: { ...frame.limits, trapMm: { ...frame.limits.trapMm, value } } };
    });
    const pairs = [pairFixture(['p2', 'p4'], [[0.3, 60]]), pairFixture(['p2', 'p3'], [[0.3, 60]])];
    const shown = { ...withPairs(pairs), ticket: { ...report.ticket, screens } };
    const { found, fine } = meet(shown);
    expect(fine[0].trapMm).toBe(0.4);
    expect(found[0].trapMm).toBe(0.25);
  });
});

describe('what is said of a pair', () => {
  const [meeting] = meet(
    withPairs([
      pairFixture(
        ['p3', 'p4'],
        [
          [-0.31, 12.3],
          [0, 8.04],
          [0.123, 100],
          [0.26, 300],
        ],
        {
          trapAreaMm2: 90.31,
          overprintAreaMm2: 1486.6,
          overprintPercent: [2.94, 99.97],
          knockOuts: {
            firstInSecond: { count: 1, boundaryMm: 44.2, areaMm2: 61.55 },
            secondInFirst: { count: 8, boundaryMm: 1157.93, areaMm2: 15225.6 },
          },
          leftOut: { areaMm2: 594.6, sharedAreaMm2: 39.4, outlineMm: 1425.6 },
        },
      ),
    ]),
  ).fine;

  it('is all that was measured, each length and width with its unit', () => {
    expect(valuesOf(factsOfMeeting(meeting, wording))).toEqual({
      'Common edge': '420.3 mm (16.5 in)',
      Gap: 'along 12.3 mm, up to 0.31 ± 0.02 mm',
      Butt: 'along 8.0 mm',
      // 0.26 mm are 0.26 / 25.4 x 72 = 0.74 points.
      Overlap: '0.12 to 0.26 mm, median 0.26 ± 0.02 mm (0.7 pt), along 400.0 mm, 90.3 mm² in all',
      'In openings':
        '1 shape of Lagoon in an opening of Night (61.5 mm², 44.2 mm round), 8 shapes of Night in openings of Lagoon (152.3 cm², 1157.9 mm round)',
      'On each other': 'over 14.9 cm², 2.9 % of Lagoon and all of Night',
      'Not measured': 'about 1426 mm of outline and 39.4 mm² where both print in halftones (594.6 mm² of film)',
    });
  });

  it('says nothing of what is not there', () => {
    const [bare] = meet(
      withPairs([pairFixture(['p3', 'p4'], [], { overprintAreaMm2: 20, overprintPercent: [0.01, 4] })]),
    ).fine;
    expect(valuesOf(factsOfMeeting(bare, wording))).toEqual({
      'Common edge': 'none within 1.25 mm',
      'On each other': 'over 20.0 mm², under 0.1 % of Lagoon and 4.0 % of Night',
    });
    const [butted] = meet(withPairs([pairFixture(['p3', 'p4'], [[0, 188.9]])])).fine;
    expect(valuesOf(factsOfMeeting(butted, wording))).toEqual({
      'Common edge': '188.9 mm (7.4 in)',
      Butt: 'along all of it',
    });
  });

  it('fits a row: the figures by themselves, the rest in words', () => {
    const row = rowOfMeeting(meeting);
    const { besides, ...figures } = Object.fromEntries(
      Object.entries(row).map(([key, value]) => [key, value.replaceAll('\u00a0', ' ')]),
    );
    expect(figures).toEqual({ edge: '420.3 mm', least: '0.12 mm', median: '0.26 ± 0.02 mm', most: '0.26 mm' });
    expect(besides).toContain('gap along 12.3 mm, up to 0.31 ± 0.02 mm; butt along 8.0 mm; 1 shape of Lagoon');
    expect(besides).not.toContain('16.5 in');
  });
});

describe('what is said of the base', () => {
  const base = underbaseFixture('p1', ['p2', 'p3', 'p4']);

  it('is where it shows first, then what lies bare, the choke, and base that stands alone', () => {
    const facts = factsOfBase(report, base, wording);
    expect(facts.map(({ term }) => term)).toEqual([
      'Peeks out',
      'Flush',
      'No base',
      'Bare strips',
      'Choke',
      'Colours’ edge',
      'Base alone',
    ]);
    expect(valuesOf(facts)).toEqual({
      'Peeks out': 'along 14.0 mm',
      Flush: 'along 6.0 mm',
      'No base': '1 part: 62.5 mm² of Coral at 40.0, 81.6 mm',
      'Bare strips': '1 strip: 30.0 mm of Coral, 0.42 ± 0.02 mm wide, at 60.2, 35.0 mm',
      Choke:
        'smallest 0.00 mm, median 0.26 ± 0.02 mm (0.7 pt) along 980.0 mm; nine tenths of the edge from 0.17 to 0.26 mm',
      'Colours’ edge': '1000.0 mm (39.4 in) with base near it',
      'Base alone': '118.0 mm² of base without colour on top; 1 part away from any colour: 78.5 mm² at 145.0, 135.0 mm',
    });
  });

  it('names three places and says how many there are', () => {
    const unbased = Array.from({ length: 5 }, (_, index) => ({ ...base.unbased[0], areaMm2: 50 - index }));
    const facts = factsOfBase(report, { ...base, unbased, unbasedTotal: 70 }, wording);
    const words = valuesOf(facts)['No base'];
    expect(words.startsWith('70 parts, the largest: 50.0 mm² of Coral')).toBe(true);
    expect(words.match(/ of Coral at /g)).toHaveLength(3);
  });

  it('puts the ink with the largest share without base first', () => {
    const tops = topsOfBase(report, base);
    expect(tops.map(({ inkName }) => inkName)).toEqual(['Night', 'Lagoon', 'Coral']);
    expect(tops[0].barePercent).toBeCloseTo((100 * 280) / 8800, 6);
  });
});

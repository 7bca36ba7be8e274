import type { CheckResult, Finding } from '../../src/findings/finding.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';

/** A finding of a line of 0.21 mm at 101.2, 44.0 mm, unless told otherwise. */
export function findingOf(advice: string, more: Partial<Finding> = {}): Finding {
  return {
    code: 'some-code',
    outcome: 'fail',
    plateIds: ['p1'],
    inkNames: ['Coral'],
    measured: { value: 0.21, unit: 'mm', plusMinus: 0.02 },
    limit: {
      value: 0.3126,
      unit: 'mm',
      from: 'mesh',
      rule: 'mesh 43/cm, 80 µm: one opening and two threads',
      source: 'a source',
    },
    places: [{ filmId: 'f1', xMm: 101.24, yMm: 44, widthMm: 3, heightMm: 0.2, value: 0.21 }],
    placesTotal: 17,
    details: [],
    advice: { customer: `To the customer: ${advice}`, printer: `To the printer: ${advice}` },
    ...more,
  };
}

export function checkOf(
  id: string,
  outcome: CheckResult['outcome'],
  findings: readonly Finding[],
  why: string | null = null,
) {
  return {
    id,
    title: id,
    asks: '',
    outcome,
    why,
    findings,
    tightest: null,
    readingsTotal: 1,
    sources: [],
  } as CheckResult;
}

/** As much of a report as notes are made of. */
export function reportOf(
  verdict: ReportJson['verdict'],
  checks: readonly CheckResult[],
  more: Partial<ReportJson> = {},
): ReportJson {
  const film = (id: string, file: string, page: number) => ({ id, file, page, widthMm: 300, heightMm: 352 });
  return {
    verdict,
    job: { name: 'Midsummer tee', ticketFile: null },
    ticket: { file: null, screens: [] },
    inks: [],
    plates: [{}, {}, {}],
    films: [film('f1', 'tee.pdf', 1), film('f2', 'tee.pdf', 2)],
    joined: [],
    checks,
    ...more,
  } as unknown as ReportJson;
}

/** As much of a report as a proof is made of: Coral, then Night, on a dark garment. */
export function approvableReport(checks: readonly CheckResult[]): ReportJson {
  const base = reportOf('fail', checks);
  return {
    ...base,
    version: 'test',
    films: base.films.map((film) => ({ ...film, scaleKnown: true })),
    ticket: {
      ...base.ticket,
      garmentHex: '#1b2a41',
      fabric: 'cotton',
      print: { widthMm: 280, heightMm: 330, quantity: 1200, location: 'front' },
      press: { heads: 6, registrationMm: 0.25, platenMm: [400, 450] },
    },
    inks: ['#ff7f50', '#101030'].map((displayHex, n) => ({ id: `i${n}`, name: ['Coral', 'Night'][n], displayHex })),
    plan: {
      order: [
        { what: 'ink', inkId: 'i0', inkName: 'Coral' },
        { what: 'flash', inkId: null, inkName: null },
        { what: 'ink', inkId: 'i1', inkName: 'Night' },
      ],
    },
  } as unknown as ReportJson;
}

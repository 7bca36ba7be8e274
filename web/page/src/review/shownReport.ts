import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { shownText } from '../../../../src/report/words.ts';

/** By these names things are found again and decided about; they are cleaned only where they are shown. */
const keptAsTheyAre: readonly string[] = ['inkNames', 'inkName', 'plateId', 'id', 'code', 'checkId', 'path'];

/** A report whose sentences may be shown as they are, whatever names stand in them. */
export function shownReport(report: ReportJson): ReportJson {
  const { checks, joined, notLookedAt, plan } = report;
  return { ...report, ...(shown({ checks, joined, notLookedAt, plan }) as object) };
}

function shown(value: unknown): unknown {
  if (typeof value === 'string') return shownText(value);
  if (Array.isArray(value)) return value.map(shown);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, part]) => [key, keptAsTheyAre.includes(key) ? part : shown(part)]),
  );
}

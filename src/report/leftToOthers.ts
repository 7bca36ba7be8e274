import type { ReportJson } from './reportJson.ts';

/** What checks did not judge because others do, each said once with the questions of those that leave it. */
export function leftToOthersIn({ checks }: ReportJson): (readonly [string, string])[] {
  const byText = new Map<string, string[]>();
  for (const { asks, leftToOthers = [] } of checks) {
    for (const text of leftToOthers) byText.set(text, [...(byText.get(text) ?? []), asks]);
  }
  return [...byText].map(([text, asked]) => [asked.join(' '), text] as const);
}

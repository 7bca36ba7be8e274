import type { Pictures } from './pictures.ts';
import type { ReportJson } from './reportJson.ts';

/** What an inspection hands to everything that shows it. */
export interface Inspection {
  readonly report: ReportJson;
  readonly pictures: Pictures;
}

import type { Crew } from '../src/inspect/crew.ts';
import type { PaintedReport } from '../src/report/paintedReport.ts';
import type { ReportJson } from '../src/report/reportJson.ts';

export type SetPdf = (painted: PaintedReport) => Promise<Uint8Array>;

/** One of a crew that sets the PDF of a report while the rest of it is made. */
export interface PdfSetter {
  readonly set: SetPdf;
  /**
   * Has a report without pictures set and thrown away, so that the writer and the type are loaded when the real one
   * comes. What goes wrong here is told where the real one is set.
   */
  rehearse(report: ReportJson): void;
}

export function pdfSetter(crew: Crew): PdfSetter {
  let rehearsal: Promise<unknown> | null = null;
  return {
    set: (painted) => {
      const setIt = () => crew.do('renderPdf', painted);
      // Another of the crew would have to load it all again.
      return rehearsal === null ? setIt() : rehearsal.then(setIt);
    },
    rehearse: (report) => {
      const painted = { report, composite: null, slips: new Map(), figures: new Map() };
      rehearsal = crew
        .do('renderPdf', painted)
        .catch(() => {})
        .then(() => {
          rehearsal = null;
        });
    },
  };
}

import { renderPlan } from '../src/report/renderPlan.ts';
import { readReport } from './readReport.ts';

/** Prints the proposed press plan with its cautions. */
export async function planCommand(reportFile: string): Promise<number> {
  process.stdout.write(renderPlan(await readReport(reportFile)));
  return 0;
}

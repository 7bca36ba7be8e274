import { Tinypool } from 'tinypool';
import type { PlateChange } from '../src/plateArchive/comparePlates.ts';
import { WrongTicketError } from '../src/ticket/ticket.ts';
import type { ComparePlates } from '../web/server/comparisons.ts';
import type { RenderedReport, RenderReport } from '../web/server/decidedReports.ts';
import type { Judge } from '../web/server/judgeAgain.ts';
import type { MadePaper, PaperTask } from './paperTask.ts';
import type { JudgeAnswer, ReviewTask } from './reviewThread.ts';

/** Judging takes some tens of milliseconds, comparing large plates some seconds; made to take long, it is given up. */
const longestMs = 120_000;
const mostMegabytes = 1_500;

export interface ReviewHelpers {
  readonly judge: Judge;
  readonly comparePlates: ComparePlates;
  readonly renderReport: RenderReport;
  readonly makePaper: (task: PaperTask) => Promise<MadePaper>;
  close(): Promise<void>;
}

/** Threads that are there from the start, so that the first answer is as quick as the next. */
export function openReviewHelpers(): ReviewHelpers {
  const pool = new Tinypool({
    filename: new URL('./reviewThread.js', import.meta.url).href,
    runtime: 'worker_threads',
    minThreads: 1,
    // One may compare while the other judges.
    maxThreads: 2,
    idleTimeout: 60_000,
    resourceLimits: { maxOldGenerationSizeMb: mostMegabytes },
  });
  const run = (task: ReviewTask) => pool.run(task, { signal: AbortSignal.timeout(longestMs) });
  return {
    judge: async (order) => {
      const answer: JudgeAnswer = await run({ what: 'judge', order });
      if (answer.kind === 'wrongTicket') throw new WrongTicketError(answer.fileName, answer.problems);
      return answer;
    },
    comparePlates: async (order) => (await run({ what: 'compare', order })) as PlateChange,
    renderReport: async (order) => (await run({ what: 'render', order })) as RenderedReport,
    makePaper: async (task) => (await run({ what: 'paper', task })) as MadePaper,
    close: () => pool.destroy(),
  };
}

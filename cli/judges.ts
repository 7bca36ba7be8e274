import { Tinypool } from 'tinypool';
import { WrongTicketError } from '../src/ticket/ticket.ts';
import type { Judge } from '../web/server/judgeAgain.ts';
import type { JudgeAnswer } from './judgeThread.ts';

/** A judgement takes some tens of milliseconds; art made to take long is given up. */
const longestMs = 20_000;
const mostMegabytes = 1_500;

/** Judges in a thread that is there from the start, so that the first is as quick as the next. */
export function openJudges(): { readonly judge: Judge; close(): Promise<void> } {
  const pool = new Tinypool({
    filename: new URL('./judgeThread.js', import.meta.url).href,
    runtime: 'worker_threads',
    minThreads: 1,
    maxThreads: 1,
    idleTimeout: 60_000,
    resourceLimits: { maxOldGenerationSizeMb: mostMegabytes },
  });
  return {
    judge: async (order) => {
      const answer: JudgeAnswer = await pool.run(order, { signal: AbortSignal.timeout(longestMs) });
      if (answer.kind === 'wrongTicket') throw new WrongTicketError(answer.fileName, answer.problems);
      return answer;
    },
    close: () => pool.destroy(),
  };
}

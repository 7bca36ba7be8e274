import type { FastifyReply } from 'fastify';

/** A request that is refused, in words for the person at the page. */
export class Refused extends Error {
  readonly status: number;
  readonly code: string;
  readonly remedy: string;

  constructor(status: number, code: string, message: string, remedy: string) {
    super(message);
    this.status = status;
    this.code = code;
    this.remedy = remedy;
  }
}

export function notThere(what: string): Refused {
  return new Refused(404, 'not-there', `There is no such ${what}.`, 'Go back to the list of jobs.');
}

export function answerRefused(reply: FastifyReply, { status, code, message, remedy }: Refused): FastifyReply {
  return reply.status(status).send({ error: { code, message, remedy } });
}

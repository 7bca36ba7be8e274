import type { FastifyReply } from 'fastify';
import type { ValueProblem } from '../shared/shop.ts';

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

/** Values of a ticket or a shop that cannot be used; the answer tells each mistake. */
export class WrongValues extends Refused {
  readonly problems: readonly ValueProblem[];

  constructor(what: string, problems: readonly ValueProblem[]) {
    super(422, 'wrong-values', `${what} has values that cannot be used.`, 'Put right what is said beside them.');
    this.problems = problems;
  }
}

export function notThere(what: string): Refused {
  return new Refused(404, 'not-there', `There is no such ${what}.`, 'Go back to the list of jobs.');
}

export function answerRefused(reply: FastifyReply, refused: Refused): FastifyReply {
  const { status, code, message, remedy } = refused;
  const problems = refused instanceof WrongValues ? { problems: refused.problems } : {};
  return reply.status(status).send({ error: { code, message, remedy, ...problems } });
}

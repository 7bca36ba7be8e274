import type { FastifyInstance, FastifyReply } from 'fastify';
import type { JobEvent } from '../shared/jobs.ts';
import { Refused } from './refused.ts';

/** So that a proxy does not take a quiet line for a dead one. */
const heartbeatMs = 20_000;
const mostListeners = 200;
/** A page that does not read what it is sent is let go; it asks again by itself. */
const mostUnreadBytes = 256 * 1024;

/** Open pages that want to hear of changes (server-sent events). */
export class Listeners {
  private readonly open = new Set<FastifyReply>();
  private readonly timer = setInterval(() => this.send(': still here\n\n'), heartbeatMs);

  constructor() {
    this.timer.unref();
  }

  get count(): number {
    return this.open.size;
  }

  route(server: FastifyInstance): void {
    server.get('/api/events', async (request, reply) => {
      if (this.open.size >= mostListeners)
        throw new Refused(429, 'busy', 'Too many pages are open.', 'Close some that nobody looks at.');
      reply.hijack();
      reply.raw.writeHead(200, {
        ...(reply.getHeaders() as Record<string, string>),
        'content-type': 'text/event-stream',
        'x-accel-buffering': 'no',
      });
      reply.raw.write('retry: 2000\n\n');
      this.open.add(reply);
      request.raw.on('close', () => this.open.delete(reply));
    });
  }

  tell(event: JobEvent): void {
    this.send(`data: ${JSON.stringify(event)}\n\n`);
  }

  close(): void {
    clearInterval(this.timer);
    for (const reply of this.open) reply.raw.end();
    this.open.clear();
  }

  private send(text: string): void {
    for (const reply of this.open) {
      if (reply.raw.writableLength > mostUnreadBytes) reply.raw.destroy();
      else reply.raw.write(text);
    }
  }
}

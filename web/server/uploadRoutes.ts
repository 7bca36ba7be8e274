import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { mostPieceBytes, mostUploadBytes } from '../shared/uploads.ts';
import { asked } from './asked.ts';
import { Refused } from './refused.ts';
import type { Uploads } from './uploads.ts';

const newUpload = z.strictObject({
  name: z.string().min(1).max(600),
  sizeBytes: z.number().int().min(1).max(mostUploadBytes),
});
const place = z.object({ upload: z.string().max(64) });
const offsetHeader = z.coerce.number().int().min(0).max(mostUploadBytes);
/** Pieces held in memory at once. */
const mostPieces = 12;

/** Where uploads are begun, which they are put among, and what a file is to be called. */
export interface UploadPlace {
  readonly path: string;
  readonly uploadsOf: (request: FastifyRequest) => Uploads;
  readonly named: (request: FastifyRequest, name: string) => string;
}

/** Files come in pieces that can be sent again, straight to the disk. */
export function uploadRoutes(server: FastifyInstance, { path, uploadsOf, named }: UploadPlace): void {
  let pieces = 0;

  server.post(path, async (request, reply) => {
    const { name, sizeBytes } = asked(newUpload, request.body);
    return reply.status(201).send(await uploadsOf(request).begin(named(request, name), sizeBytes));
  });

  server.get(`${path}/:upload`, async (request) => uploadsOf(request).facts(asked(place, request.params).upload));

  server.delete(`${path}/:upload`, async (request, reply) => {
    await uploadsOf(request).remove(asked(place, request.params).upload);
    return reply.status(204).send();
  });

  server.register(async (scope) => {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, done) =>
      done(null, body),
    );
    scope.addHook('preParsing', async (_request, reply) => {
      if (pieces >= mostPieces)
        throw new Refused(429, 'busy', 'Many files are coming in just now.', 'Send the piece again in a moment.');
      pieces += 1;
      // Once, however it ends: answered, or given up by the browser.
      reply.raw.once('close', () => {
        pieces -= 1;
      });
    });
    scope.patch(`${path}/:upload`, { bodyLimit: mostPieceBytes }, async (request) => {
      const { upload } = asked(place, request.params);
      const offset = asked(offsetHeader, request.headers['upload-offset']);
      if (!(request.body instanceof Uint8Array)) throw new Refused(400, 'no-piece', 'There is no piece.', 'Send one.');
      return uploadsOf(request).add(upload, offset, request.body);
    });
  });
}

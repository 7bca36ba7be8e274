import type { UploadFacts } from '../../../shared/uploads.ts';
import { answered, ask, change, RefusedError } from '../server/ask.ts';
import { begunUpload, rememberUpload } from './begunUploads.ts';

const pieceBytes = 4 * 1024 * 1024;
const mostTries = 6;
/** The server asks to wait a moment, or is just starting. */
const passing = new Set([429, 502, 503]);

/**
 * Sends a file in pieces; after a broken line, or when the page was left meanwhile, it goes on where the server says.
 * Answers the upload's id.
 */
export async function sendFile(
  name: string,
  file: File,
  signal: AbortSignal,
  onSent: (bytes: number) => void,
): Promise<string> {
  const upload = (await goOnWith(name, file)) ?? (await begin(name, file));
  const { id } = upload;
  let { offset } = upload;
  onSent(offset);
  let tries = 0;
  while (offset < file.size) {
    signal.throwIfAborted();
    try {
      ({ offset } = await sendPiece(id, file, offset, signal));
      tries = 0;
      onSent(offset);
    } catch (problem) {
      const isWrongPlace = problem instanceof RefusedError && problem.status === 409;
      const isRefused = problem instanceof RefusedError && !isWrongPlace && !passing.has(problem.status);
      if (signal.aborted || isRefused || ++tries > mostTries) throw problem;
      if (!isWrongPlace) await new Promise((resolve) => setTimeout(resolve, 250 * 2 ** tries));
      ({ offset } = await ask<UploadFacts>(`/api/uploads/${id}`, signal).catch(() => ({ offset })));
    }
  }
  return id;
}

async function begin(name: string, file: File): Promise<UploadFacts> {
  const upload = await change<UploadFacts>('POST', '/api/uploads', { name, sizeBytes: file.size });
  rememberUpload(name, file, upload.id);
  return upload;
}

/** What has come of the file, where this browser began to send it and the server still has it. */
async function goOnWith(name: string, file: File): Promise<UploadFacts | null> {
  const id = begunUpload(name, file);
  if (id === null) return null;
  try {
    const upload = await ask<UploadFacts>(`/api/uploads/${id}`);
    return upload.sizeBytes === file.size ? upload : null;
  } catch (problem) {
    if (problem instanceof RefusedError && problem.status === 404) return null;
    throw problem;
  }
}

function sendPiece(id: string, file: File, offset: number, signal: AbortSignal): Promise<UploadFacts> {
  return answered(
    fetch(`/api/uploads/${id}`, {
      method: 'PATCH',
      signal,
      headers: { 'x-plateglass': '1', 'upload-offset': String(offset), 'content-type': 'application/octet-stream' },
      body: file.slice(offset, offset + pieceBytes),
    }),
  );
}

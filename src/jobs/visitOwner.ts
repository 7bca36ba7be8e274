import { createConnection } from 'node:net';
import type { JobStore } from './jobStore.ts';
import { type Answer, greeting, lineReader, storeOfCalls } from './ownerProtocol.ts';
import { StoreRequestError, StoreUnreachableError, UnusableStoreError } from './storeErrors.ts';

/** The store of another process of this machine; `isGone` once that process has left. Null when nobody answers. */
export async function visitOwner(path: string): Promise<{ store: JobStore; isGone(): boolean } | null> {
  const socket = createConnection(path);
  socket.setEncoding('utf8');
  const waiting = new Map<number, { resolve(value: unknown): void; reject(error: Error): void }>();
  let gone = false;
  let calls = 0;

  const said = new Promise<string | null>((resolve) => {
    let greeted = false;
    socket.on(
      'data',
      lineReader((line) => {
        if (greeted) settle(JSON.parse(line));
        else resolve(line);
        greeted = true;
      }),
    );
    socket.on('error', () => socket.destroy());
    socket.on('close', () => {
      gone = true;
      resolve(null);
      for (const { reject } of waiting.values()) reject(ownerGone());
      waiting.clear();
    });
    socket.setTimeout(2_000, () => {
      if (!greeted) socket.destroy();
    });
  });

  const word = await said;
  if (word === null) return null;
  if (word !== greeting) {
    socket.destroy();
    throw new UnusableStoreError(
      'The job store is in use by a Plateglass of another version. Stop it, or use the same version.',
    );
  }
  socket.setTimeout(0);
  const store = storeOfCalls(
    (name, values) =>
      new Promise((resolve, reject) => {
        if (gone) return reject(ownerGone());
        const id = ++calls;
        waiting.set(id, { resolve, reject });
        socket.write(`${JSON.stringify({ id, name, values })}\n`);
      }),
    async () => {
      socket.end();
      socket.destroy();
    },
  );
  return { store, isGone: () => gone };

  function settle(answer: Answer): void {
    const asked = waiting.get(answer.id);
    waiting.delete(answer.id);
    if (asked === undefined) return;
    if ('error' in answer) asked.reject(errorOf(answer.error));
    else asked.resolve(answer.value);
  }
}

function ownerGone(): StoreUnreachableError {
  return new StoreUnreachableError('The process that owned the job store has ended. Try again.');
}

function errorOf({ name, message }: { readonly name: string; readonly message: string }): Error {
  const kinds = { StoreRequestError, StoreUnreachableError, UnusableStoreError };
  const Kind = kinds[name as keyof typeof kinds] ?? Error;
  return new Kind(message);
}

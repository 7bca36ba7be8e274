import { rm } from 'node:fs/promises';
import { createServer, type Socket } from 'node:net';
import type { JobStore } from './jobStore.ts';
import { type Answer, type Call, callNames, greeting, lineReader } from './ownerProtocol.ts';

/** Lets other processes of this machine use a store that this one owns, over a socket in the file system. */
export async function serveOwned(store: JobStore, path: string): Promise<{ close(): Promise<void> }> {
  await rm(path, { force: true });
  const guests = new Set<Socket>();
  const server = createServer((socket) => {
    guests.add(socket);
    socket.setEncoding('utf8');
    socket.on('close', () => guests.delete(socket));
    socket.on('error', () => socket.destroy());
    socket.on(
      'data',
      lineReader((line) => void answer(store, line, socket)),
    );
    socket.write(`${greeting}\n`);
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(path, resolve);
  });
  // The store must not keep a program alive that has nothing else to do.
  server.unref();
  return {
    close: async () => {
      for (const guest of guests) guest.destroy();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}

async function answer(store: JobStore, line: string, socket: Socket): Promise<void> {
  const reply = await carryOut(store, line);
  if (reply === null) socket.destroy();
  else if (!socket.destroyed) socket.write(`${JSON.stringify(reply)}\n`);
}

async function carryOut(store: JobStore, line: string): Promise<Answer | null> {
  let call: Call;
  try {
    call = JSON.parse(line);
  } catch {
    return null;
  }
  const { id, name, values } = call;
  if (!callNames.includes(name) || !Array.isArray(values)) return null;
  try {
    const method = store[name] as (...values: unknown[]) => Promise<unknown>;
    return { id, value: await method(...values) };
  } catch (error) {
    const { name: kind, message } = error instanceof Error ? error : new Error(String(error));
    return { id, error: { name: kind, message } };
  }
}

import type { CustomerFilesTaken, CustomerRefused } from '../shared/customer.ts';
import type { UploadFacts } from '../shared/uploads.ts';

/** Small, so that a piece gets through a slow line in time. */
const pieceBytes = 512 * 1024;
const mostTries = 5;

type Told = 'at' | 'done' | 'same' | 'noAnswer' | 'tooLarge' | 'noArt' | 'busy' | 'failed';

class RefusedError extends Error {
  readonly code: string;
  constructor(code: string) {
    super(code);
    this.code = code;
  }
}

/** Shows the form, and sends what is chosen in it; what was cut off goes on where it was. */
export function sendFiles(form: HTMLFormElement, path: string): void {
  const words = JSON.parse(form.dataset.words ?? '{}') as Readonly<Record<string, string>>;
  const button = form.querySelector('button')!;
  const bar = form.querySelector('progress')!;
  const told = form.querySelector('.told')!;
  const begun = new Map<File, UploadFacts>();
  const say = (key: Told, values: Readonly<Record<string, string>> = {}) => {
    const text = words[`sending.${key}`] ?? '';
    told.textContent = text.replace(/\{(\w+)\}/g, (_whole, name: string) => values[name] ?? '');
  };
  form.hidden = false;
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    button.disabled = true;
    bar.hidden = false;
    try {
      const fields = new FormData(form);
      const files = fields.getAll('files').filter((one): one is File => one instanceof File);
      const uploads: string[] = [];
      for (const file of files) {
        const at = (offset: number) => {
          const percent = Math.floor((100 * offset) / Math.max(1, file.size));
          bar.value = percent;
          say('at', { name: file.name, percent: String(percent) });
        };
        uploads.push(await sendOne(file, path, begun, at));
      }
      const { kind } = await send<CustomerFilesTaken>('POST', `${path}/files`, {
        uploads,
        name: String(fields.get('name') ?? ''),
      });
      begun.clear();
      if (kind === 'alreadyKnown') say('same');
      else {
        say('done');
        location.hash = '';
        location.reload();
        return;
      }
    } catch (error) {
      say(toldOf(error));
    }
    bar.hidden = true;
    button.disabled = false;
  });
}

/** Sends a file, or the rest of it; its id. */
async function sendOne(
  file: File,
  path: string,
  begun: Map<File, UploadFacts>,
  at: (offset: number) => void,
): Promise<string> {
  let facts =
    begun.get(file) ?? (await send<UploadFacts>('POST', `${path}/uploads`, { name: file.name, sizeBytes: file.size }));
  begun.set(file, facts);
  const place = `${path}/uploads/${facts.id}`;
  at(facts.offset);
  for (let tries = 0; facts.offset < file.size; ) {
    try {
      facts = await answered<UploadFacts>(
        fetch(place, {
          method: 'PATCH',
          headers: { 'content-type': 'application/octet-stream', 'upload-offset': String(facts.offset) },
          body: file.slice(facts.offset, facts.offset + pieceBytes),
        }),
      );
      tries = 0;
    } catch (error) {
      tries += 1;
      if (tries >= mostTries || (error instanceof RefusedError && !/^(wrong-offset|busy|too-many)$/.test(error.code)))
        throw error;
      await new Promise((resolve) => setTimeout(resolve, 500 * 2 ** tries));
      // A piece may have come though its answer did not.
      facts = await answered<UploadFacts>(fetch(place)).catch(() => facts);
    }
    begun.set(file, facts);
    at(facts.offset);
  }
  return facts.id;
}

function send<Answer>(method: 'POST', address: string, body: object): Promise<Answer> {
  return answered(
    fetch(address, { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
  );
}

async function answered<Answer>(request: Promise<Response>): Promise<Answer> {
  const response = await request;
  if (response.ok) return (await response.json()) as Answer;
  const body = (await response.json().catch(() => null)) as CustomerRefused | null;
  throw new RefusedError(body?.error.code ?? (response.status === 429 ? 'too-many' : 'gone'));
}

function toldOf(error: unknown): Told {
  if (!(error instanceof RefusedError)) return 'noAnswer';
  const known: Readonly<Record<string, Told>> = {
    'too-large': 'tooLarge',
    'wrong-request': 'tooLarge',
    'no-art': 'noArt',
    'wrong-name': 'noArt',
    busy: 'busy',
    'too-many': 'busy',
    'too-many-uploads': 'busy',
    'disk-full': 'busy',
  };
  return known[error.code] ?? 'failed';
}

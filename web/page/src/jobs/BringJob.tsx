import { useEffect, useRef, useState } from 'preact/hooks';
import type { NewJobFacts } from '../../../shared/uploads.ts';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { goTo } from '../route.ts';
import { change, RefusedError } from '../server/ask.ts';
import { remembered } from '../settings.ts';
import { useWords } from '../words/useWords.ts';
import { forgetUpload } from './begunUploads.ts';
import { type Brought, filesOfDrop } from './filesOfDrop.ts';
import { sendFile } from './sendFile.ts';

/** Films dropped anywhere on the page, or chosen, become a job. */
export function BringJob(props: { readonly onBrought: () => void }) {
  const { say, number } = useWords();
  const [isOver, setOver] = useState(false);
  const [sending, setSending] = useState<{ readonly done: number; readonly total: number } | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const [leftOut, setLeftOut] = useState<readonly string[]>([]);
  const [waiting, setWaiting] = useState<readonly Brought[]>([]);
  const stopper = useRef<AbortController | null>(null);

  const bring = async (files: readonly Brought[]) => {
    if (files.length === 0) return;
    // Whoever brings a job says who they are, once.
    const hasName = (remembered('name') ?? '') !== '';
    setWaiting(hasName ? [] : files);
    if (!hasName) return;
    const total = files.reduce((sum, { file }) => sum + file.size, 0);
    stopper.current = new AbortController();
    setError(null);
    setLeftOut([]);
    setSending({ done: 0, total });
    try {
      const uploads: string[] = [];
      const sent: Brought[] = [];
      const left: string[] = [];
      let before = 0;
      for (const brought of files) {
        const { name, file } = brought;
        if (file.size === 0 && files.length > 1) {
          left.push(name);
          continue;
        }
        try {
          uploads.push(
            await sendFile(name, file, stopper.current.signal, (done) => setSending({ done: before + done, total })),
          );
          sent.push(brought);
        } catch (problem) {
          // Folders hold notes and what file managers put there; with nothing else the refusal is told.
          if (!(problem instanceof RefusedError && problem.code === 'no-art') || files.length === 1) throw problem;
          left.push(name);
        }
        before += file.size;
      }
      setLeftOut(left);
      if (sent.length === 0) return;
      const jobName = jobNameOf(sent);
      const made = await change<NewJobFacts>('POST', '/api/jobs', {
        uploads,
        jobName,
        by: remembered('name') ?? undefined,
      });
      for (const { name, file } of sent) forgetUpload(name, file);
      props.onBrought();
      if (made.kind === 'alreadyKnown') goTo(`/jobs/${made.job.jobId}`);
    } catch (problem) {
      if (!stopper.current.signal.aborted) setError(problem as Error);
    } finally {
      setSending(null);
    }
  };
  const latest = useRef(bring);
  latest.current = bring;

  useEffect(() => {
    const over = (event: DragEvent) => {
      if (event.dataTransfer?.types.includes('Files') !== true) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent) => {
      event.preventDefault();
      setOver(false);
      if (event.dataTransfer !== null) void filesOfDrop(event.dataTransfer).then((files) => latest.current(files));
    };
    addEventListener('dragover', over);
    addEventListener('dragleave', leave);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('dragleave', leave);
      removeEventListener('drop', drop);
    };
  }, []);

  const chosen = (event: { readonly currentTarget: HTMLInputElement }) => {
    const files = [...(event.currentTarget.files ?? [])].map((file) => ({
      name: file.webkitRelativePath || file.name,
      file,
    }));
    event.currentTarget.value = '';
    void bring(files);
  };
  return (
    <section class={isOver ? 'bring over' : 'bring'} aria-label={say('bring')}>
      <p>{say('bring.drop')}</p>
      <div class="row">
        <label class="button file-button">
          {say('bring.files')}
          <input type="file" multiple onChange={chosen} />
        </label>
        <label class="button file-button">
          {say('bring.folder')}
          <input type="file" multiple {...{ webkitdirectory: true }} onChange={chosen} />
        </label>
      </div>
      {waiting.length > 0 && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            void bring(waiting);
          }}
        >
          <NameField />
          <button type="submit" class="button strong">
            {say('bring.send')}
          </button>
        </form>
      )}
      {sending !== null && (
        <div class="sending" role="status">
          <progress max={sending.total} value={sending.done} aria-label={say('bring.sending')} />
          <span>
            {number(sending.done / 1e6, 1)} / {number(sending.total / 1e6, 1)} MB
          </span>
          <button type="button" class="button" onClick={() => stopper.current?.abort()}>
            {say('cancel')}
          </button>
        </div>
      )}
      {leftOut.length > 0 && <p role="status">{say('bring.leftOut', { names: leftOut.join(', ') })}</p>}
      {error !== null && <Trouble error={error} />}
    </section>
  );
}

/** The folder they came in, or the name of the first film. */
function jobNameOf(files: readonly Brought[]): string {
  const [first] = files;
  const parts = first.name.split('/');
  if (parts.length > 1) return parts[0];
  const film = files.find(({ name }) => !/\.(ya?ml|json)$/i.test(name)) ?? first;
  return film.name.replace(/\.[^.]+$/, '');
}

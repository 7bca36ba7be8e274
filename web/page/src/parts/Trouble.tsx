import { RefusedError } from '../server/ask.ts';
import { useWords } from '../words/useWords.ts';

/** What went wrong, and what to do. */
export function Trouble({ error }: { readonly error: Error }) {
  const { say } = useWords();
  const isRefused = error instanceof RefusedError;
  return (
    <div class="trouble" role="alert">
      <strong>{isRefused ? error.message : say('trouble.noServer')}</strong>
      <p>{isRefused && error.remedy !== '' ? error.remedy : say('trouble.noServerRemedy')}</p>
    </div>
  );
}

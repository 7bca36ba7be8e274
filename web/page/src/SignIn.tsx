import { useState } from 'preact/hooks';
import type { SessionFacts } from '../../shared/session.ts';
import { Trouble } from './parts/Trouble.tsx';
import { change } from './server/ask.ts';
import { useWords } from './words/useWords.ts';

/** Asked of those who come from another machine. */
export function SignIn({ onSignedIn }: { readonly onSignedIn: () => void }) {
  const { say } = useWords();
  const [name, setName] = useState('');
  const [passphrase, setPassphrase] = useState('');
  const [error, setError] = useState<Error | null>(null);
  const send = async (event: Event) => {
    event.preventDefault();
    try {
      await change<SessionFacts>('POST', '/api/session', { name, passphrase });
      onSignedIn();
    } catch (problem) {
      setError(problem as Error);
    }
  };
  return (
    <main class="plain">
      <h1>{say('signIn')}</h1>
      <form onSubmit={send} class="fields">
        <label>
          {say('signIn.name')}
          <input
            required
            autocomplete="username"
            value={name}
            onInput={({ currentTarget }) => setName(currentTarget.value)}
          />
        </label>
        <label>
          {say('signIn.passphrase')}
          <input
            required
            type="password"
            autocomplete="current-password"
            value={passphrase}
            onInput={({ currentTarget }) => setPassphrase(currentTarget.value)}
          />
        </label>
        {error !== null && <Trouble error={error} />}
        <button type="submit" class="button strong">
          {say('signIn')}
        </button>
      </form>
    </main>
  );
}

import { useState } from 'preact/hooks';
import type { RevisionFacts } from '../../../shared/jobs.ts';
import type { NoteAsk } from '../../../shared/notes.ts';
import { Trouble } from '../parts/Trouble.tsx';
import { useWords } from '../words/useWords.ts';
import { MailList } from './MailList.tsx';
import { SendNote } from './SendNote.tsx';
import type { AskedNote } from './useNote.ts';

/** The ways out of the page: as a file, as text that is copied, as a mail. */
export function NoteOut(props: {
  readonly base: string;
  readonly note: AskedNote;
  readonly wish: NoteAsk;
  readonly revision: RevisionFacts;
}) {
  const { base, note, wish, revision } = props;
  const facts = note.facts!;
  const { say } = useWords();
  const [to, setTo] = useState<string | null>(null);
  const [isSending, setSending] = useState(false);
  const address = (to ?? facts.mails[0]?.to ?? '').trim();
  const draft = new URLSearchParams([...new URLSearchParams(note.query), ...(address === '' ? [] : [['to', address]])]);
  const canSend = facts.mail.state === 'ready' || facts.mail.state === 'test';
  return (
    <section aria-labelledby="note-out">
      <h2 id="note-out">{say('note.out')}</h2>
      {note.error !== null && <Trouble error={note.error} />}
      <div class="row">
        <CopyText text={facts.text} />
        {(['pdf', 'html', 'txt', 'md'] as const).map((kind) => (
          <a key={kind} class="button" href={`${base}/note.${kind}?${note.query}`} download>
            {say(`note.as.${kind}`)}
          </a>
        ))}
        <a class="button" href={`${base}/note.eml?${draft}`} download>
          {say('note.as.eml')}
        </a>
      </div>
      <details class="note-text">
        <summary>{say('note.plain')}</summary>
        <textarea rows={14} readOnly aria-label={say('note.plain')} lang={facts.note.language} value={facts.text} />
      </details>
      <form
        class="send-to"
        onSubmit={(event) => {
          event.preventDefault();
          setSending(true);
        }}
      >
        <label>
          {say('note.to')}
          <input
            type="text"
            inputMode="email"
            autocomplete="email"
            required
            maxLength={400}
            value={to ?? address}
            onInput={(event) => setTo(event.currentTarget.value)}
          />
        </label>
        <button type="submit" class="button strong" disabled={!canSend}>
          {say('note.send')}
        </button>
        <p class="quiet">
          {say(`note.mail.${facts.mail.state}`)} {facts.mail.detail}
        </p>
      </form>
      {isSending && (
        <SendNote
          {...{ base, facts, wish, revision }}
          to={address}
          onDone={() => {
            setSending(false);
            note.again();
          }}
        />
      )}
      <MailList base={base} mails={facts.mails} />
    </section>
  );
}

function CopyText({ text }: { readonly text: string }) {
  const { say } = useWords();
  const [copied, setCopied] = useState<string | null>(null);
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setCopied(text);
    } catch {
      // Without leave, or without https, it is copied by hand from the text below.
      const details = document.querySelector<HTMLDetailsElement>('.note-text')!;
      details.open = true;
      details.querySelector('textarea')!.select();
    }
  };
  return (
    <>
      <button type="button" class="button strong" onClick={copy}>
        {say('note.copy')}
      </button>
      <span role="status">{copied === text && say('note.copied')}</span>
    </>
  );
}

import { useEffect, useRef, useState } from 'preact/hooks';
import type { RevisionFacts } from '../../../shared/jobs.ts';
import type { MailFacts, NoteAsk, NoteFacts, SendNote as Sending } from '../../../shared/notes.ts';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { change, RefusedError } from '../server/ask.ts';
import { remembered } from '../settings.ts';
import { useWords } from '../words/useWords.ts';

/** Asks once more before the note goes to the post, and once more again before the same goes out twice. */
export function SendNote(props: {
  readonly base: string;
  readonly facts: NoteFacts;
  readonly wish: NoteAsk;
  readonly to: string;
  readonly revision: RevisionFacts;
  onDone(isSent: boolean): void;
}) {
  const { base, facts, wish, to, revision } = props;
  const { say } = useWords();
  const dialog = useRef<HTMLDialogElement>(null);
  const [holds, setHolds] = useState(revision.isLatest && revision.standing !== 'onHold');
  const [error, setError] = useState<Error | null>(null);
  const [isSending, setSending] = useState(false);
  const isSecond = error instanceof RefusedError && error.code === 'sent-before';
  useEffect(() => dialog.current!.showModal(), []);
  const send = async (event: Event) => {
    event.preventDefault();
    setSending(true);
    const by = remembered('name') ?? undefined;
    const again = isSecond ? { again: Math.max(1, sameBefore(facts, to).length) } : {};
    try {
      const sending: Sending = { ...wish, to, by, ...again };
      await change('POST', `${base}/note`, sending);
      if (holds) await change('POST', `${base}/decisions`, { kind: 'askCustomer', by, reason: '' });
      props.onDone(true);
    } catch (problem) {
      setError(problem as Error);
      setSending(false);
    }
  };
  return (
    <dialog ref={dialog} class="decision" aria-labelledby="send-title" onClose={() => props.onDone(false)}>
      <form onSubmit={send}>
        <h2 id="send-title">{say('note.sendTitle')}</h2>
        <dl class="send-facts">
          <dt>{say('note.to')}</dt>
          <dd>{to}</dd>
          <dt>{say('note.from')}</dt>
          <dd>{facts.mail.from}</dd>
          <dt>{say('note.subject')}</dt>
          <dd lang={facts.note.language}>{facts.note.subject}</dd>
        </dl>
        {facts.mail.state === 'test' && <p>{say('note.mail.test')}</p>}
        {revision.isLatest && revision.standing !== 'onHold' && (
          <label class="check">
            <input type="checkbox" checked={holds} onChange={(event) => setHolds(event.currentTarget.checked)} />
            {say('note.holds')}
          </label>
        )}
        <NameField />
        {error !== null && <Trouble error={error} />}
        <div class="row">
          <button type="submit" class="button strong" disabled={isSending}>
            {say(isSecond ? 'note.sendAgain' : 'note.send')}
          </button>
          <button type="button" class="button" onClick={() => dialog.current!.close()}>
            {say('cancel')}
          </button>
        </div>
      </form>
    </dialog>
  );
}

function sameBefore(facts: NoteFacts, to: string): readonly MailFacts[] {
  const same = (mail: MailFacts) =>
    mail.subject === facts.note.subject && to.toLowerCase().includes(mail.to.toLowerCase());
  return facts.mails.filter(same);
}

import type { MailFacts } from '../../../shared/notes.ts';
import { useWords } from '../words/useWords.ts';

/** What was sent of this revision, to whom, how that went, and a copy of each. */
export function MailList(props: { readonly base: string; readonly mails: readonly MailFacts[] }) {
  const { say, moment } = useWords();
  if (props.mails.length === 0) return <p class="quiet">{say('mails.none')}</p>;
  return (
    <ul class="mails" aria-label={say('mails')}>
      {props.mails.map((mail) => (
        <li key={mail.mailId}>
          <p>
            <strong>{say(`mails.${mail.state}`)}</strong> {say('mails.to', { to: mail.to })}{' '}
            <span class="quiet">{moment(mail.sentAt ?? mail.addedAt)}</span>
          </p>
          {mail.reason !== null && <p>{mail.reason}</p>}
          <p class="quiet">{say('mails.id', { id: mail.messageId })}</p>
          <a class="button" href={`${props.base}/mails/${mail.mailId}`} download>
            {say('mails.copy')}
          </a>
        </li>
      ))}
    </ul>
  );
}

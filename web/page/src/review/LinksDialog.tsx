import { useEffect, useRef, useState } from 'preact/hooks';
import {
  type LinkFacts,
  type LinksFacts,
  mostLinkDays,
  type NewLink,
  type NewLinkFacts,
} from '../../../shared/links.ts';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { ask, change } from '../server/ask.ts';
import { nameHere } from '../settings.ts';
import { useWords } from '../words/useWords.ts';
import { languages } from '../words/wordsIn.ts';

/** Links by which the customer of this job sees it: made, copied, closed. */
export function LinksDialog(props: { readonly jobId: number; onDone(): void }) {
  const { say } = useWords();
  const path = `/api/jobs/${props.jobId}/links`;
  const dialog = useRef<HTMLDialogElement>(null);
  const [facts, setFacts] = useState<LinksFacts | null>(null);
  const [url, setUrl] = useState<string | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const trying = async (work: () => Promise<LinksFacts>) => {
    setError(null);
    await work().then(setFacts, setError);
  };
  useEffect(() => {
    dialog.current!.showModal();
    void trying(() => ask<LinksFacts>(path));
  }, []);
  const make = (event: SubmitEvent) => {
    event.preventDefault();
    const fields = new FormData(event.currentTarget as HTMLFormElement);
    const language = String(fields.get('language'));
    const wish: NewLink = { days: Number(fields.get('days')), by: nameHere(), ...(language !== '' && { language }) };
    void trying(async () => {
      const made = await change<NewLinkFacts>('POST', path, wish);
      setUrl(made.url);
      return made;
    });
  };
  const revoke = (link: LinkFacts) =>
    trying(() => change<LinksFacts>('DELETE', `${path}/${link.id}`, { by: nameHere() || undefined }));
  return (
    <dialog ref={dialog} class="decision links" aria-labelledby="links-title" onClose={() => props.onDone()}>
      <h2 id="links-title">{say('links.title')}</h2>
      {facts !== null && facts.address === null && <p>{say('links.noPage')}</p>}
      {facts !== null && facts.address !== null && (
        <form onSubmit={make}>
          <p>{say('links.about')}</p>
          <label>
            {say('links.days')}
            <input
              name="days"
              type="number"
              required
              min={1}
              max={mostLinkDays}
              defaultValue={String(facts.validDays)}
            />
          </label>
          <label>
            {say('settings.language')}
            <select name="language">
              <option value="">{say('links.anyLanguage')}</option>
              {languages.map((language) => (
                <option key={language} value={language}>
                  {new Intl.DisplayNames([language], { type: 'language' }).of(language)}
                </option>
              ))}
            </select>
          </label>
          <NameField />
          <div class="row">
            <button type="submit" class="button strong">
              {say('links.make')}
            </button>
          </div>
        </form>
      )}
      {url !== null && <MadeLink url={url} />}
      {error !== null && <Trouble error={error} />}
      {facts !== null && facts.links.length > 0 && <LinkList links={facts.links} onRevoke={revoke} />}
      <div class="row">
        <button type="button" class="button" onClick={() => dialog.current!.close()}>
          {say('close')}
        </button>
      </div>
    </dialog>
  );
}

function MadeLink({ url }: { readonly url: string }) {
  const { say } = useWords();
  const field = useRef<HTMLInputElement>(null);
  const [isCopied, setCopied] = useState(false);
  const copy = async () => {
    field.current!.select();
    // Without https a browser lends no clipboard; then what is selected can be copied by hand.
    await navigator.clipboard?.writeText(url).then(
      () => setCopied(true),
      () => undefined,
    );
  };
  return (
    <div class="made-link">
      <label>
        {say('links.once')}
        <input ref={field} readOnly value={url} />
      </label>
      <div class="row">
        <button type="button" class="button" onClick={copy}>
          {say('links.copy')}
        </button>
        <span role="status">{isCopied ? say('links.copied') : ''}</span>
      </div>
    </div>
  );
}

function LinkList(props: { readonly links: readonly LinkFacts[]; onRevoke(link: LinkFacts): void }) {
  const { say, moment } = useWords();
  const standing = ({ revoked, isOpen, expiresAt }: LinkFacts) =>
    revoked !== null
      ? say('links.revoked', { who: revoked.by })
      : say(isOpen ? 'links.until' : 'links.expired', { when: moment(expiresAt) });
  return (
    <ul class="link-list">
      {props.links.map((link) => (
        <li key={link.id} class="row">
          <span>
            {say('links.madeBy', { who: link.madeBy, when: moment(link.madeAt) })} {standing(link)}
          </span>
          {link.isOpen && (
            <button
              type="button"
              class="button quiet"
              aria-label={`${say('links.revoke')}: ${moment(link.madeAt)}`}
              onClick={() => props.onRevoke(link)}
            >
              {say('links.revoke')}
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}

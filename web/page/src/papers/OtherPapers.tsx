import { useEffect, useState } from 'preact/hooks';
import { useWords } from '../words/useWords.ts';

/** The proof to be signed, and the shop's own work list; both by the language and units chosen above. */
export function OtherPapers(props: {
  readonly base: string;
  readonly language: string;
  readonly units: string;
  readonly hasProof: boolean;
  /** Changes with the decisions, which the list follows. */
  readonly turn: string;
}) {
  const { base, language, units } = props;
  const { say } = useWords();
  const query = new URLSearchParams({ language, units }).toString();
  const [list, setList] = useState('');
  useEffect(() => {
    const stopper = new AbortController();
    fetch(`${base}/worklist.md?${query}`, { signal: stopper.signal })
      .then((answer) => (answer.ok ? answer.text() : ''))
      .then(setList)
      .catch(() => undefined);
    return () => stopper.abort();
  }, [base, query, props.turn]);
  return (
    <>
      <section aria-labelledby="proof">
        <h2 id="proof">{say('proof')}</h2>
        <p>{say(props.hasProof ? 'proof.about' : 'proof.none')}</p>
        {props.hasProof && (
          <a class="button" href={`${base}/proof.pdf?${query}`} download>
            {say('proof.pdf')}
          </a>
        )}
      </section>
      <section aria-labelledby="own-list">
        <h2 id="own-list">{say('list')}</h2>
        <p>{say('list.about')}</p>
        <div class="row">
          {(['txt', 'md'] as const).map((kind) => (
            <a key={kind} class="button" href={`${base}/worklist.${kind}?${query}`} download>
              {say(`note.as.${kind}`)}
            </a>
          ))}
        </div>
        <div class="own-list" lang={language}>
          <WorkList markdown={list} />
        </div>
      </section>
    </>
  );
}

/** The list with its headings as headings; it has no other marks. */
function WorkList({ markdown }: { readonly markdown: string }) {
  return (
    <>
      {markdown
        .split('\n')
        .filter((line) => line !== '')
        .map((line, index) => {
          const [, marks, heading] = /^(#+) (.*)$/.exec(line) ?? [];
          if (marks === undefined) return <p key={index}>{line}</p>;
          return marks === '#' ? <h3 key={index}>{heading}</h3> : <h4 key={index}>{heading}</h4>;
        })}
    </>
  );
}

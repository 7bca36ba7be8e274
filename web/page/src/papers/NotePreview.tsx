import type { NoteFacts, NotePoint } from '../../../shared/notes.ts';
import { useWords } from '../words/useWords.ts';

/** The note as the customer reads it, on white paper in both themes. */
export function NotePreview({ facts }: { readonly facts: NoteFacts }) {
  const { say } = useWords();
  const { note, pictures } = facts;
  return (
    <article class="note-paper" lang={note.language} aria-label={say('note.preview')}>
      <h3>{note.subject}</h3>
      {[note.greeting, ...note.opening].map((text, index) => (
        <p key={index}>{text}</p>
      ))}
      {note.settled !== null && (
        <section>
          <h4>{note.settled.heading}</h4>
          <ul>
            {note.settled.lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </section>
      )}
      {note.sections.map(({ heading, items }) => (
        <section key={heading}>
          <h4>{heading}</h4>
          <ol start={items[0].number}>
            {items.map((item) => (
              <Point key={item.number} item={item} picture={pictures.find(({ number }) => number === item.number)} />
            ))}
          </ol>
        </section>
      ))}
      {note.closing.map((text, index) => (
        <p key={index}>{text}</p>
      ))}
      {note.signature.map((line, index) => (
        <p key={index} class="signature">
          {line}
        </p>
      ))}
    </article>
  );
}

function Point(props: { readonly item: NotePoint; readonly picture?: NoteFacts['pictures'][number] }) {
  const { item, picture } = props;
  return (
    <li>
      <strong>{item.defect}</strong> {[item.since, item.effect, item.places].filter(Boolean).join(' ')}
      <br />
      {[item.request, item.offer].filter(Boolean).join(' ')}
      {picture !== undefined && (
        <img src={picture.src} width={picture.widthPx} height={picture.heightPx} alt={picture.alt} />
      )}
    </li>
  );
}

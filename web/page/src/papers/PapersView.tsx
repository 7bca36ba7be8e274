import { useEffect, useState } from 'preact/hooks';
import type { NoteAsk } from '../../../shared/notes.ts';
import { Link } from '../parts/Link.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { useReview } from '../review/useReview.ts';
import { useWords } from '../words/useWords.ts';
import { NoteChoices } from './NoteChoices.tsx';
import { NoteForm } from './NoteForm.tsx';
import { NoteOut } from './NoteOut.tsx';
import { NotePreview } from './NotePreview.tsx';
import { OtherPapers } from './OtherPapers.tsx';
import { useNote } from './useNote.ts';

/** The note that goes to the customer, the proof and the shop's work list of one revision. */
export function PapersView(props: { readonly jobId: number; readonly revision: number }) {
  const { say, language } = useWords();
  const { job, revision } = useReview(props.jobId, props.revision);
  const [wish, setWish] = useState<NoteAsk>({});
  const base = `/api/jobs/${props.jobId}/${props.revision}`;
  const note = useNote(revision === null ? null : base, wish, language);
  // Whatever is decided or sent, here or elsewhere, stands in the job.
  const turn = JSON.stringify([revision?.decisions, job.answer?.history.length]);
  useEffect(() => {
    if (note.facts !== null) note.again();
  }, [turn]);
  const { facts } = note;
  const trouble = job.error ?? (facts === null ? note.error : null);
  return (
    <main class="plain wide papers">
      <h1>{say('papers.title', { job: job.answer?.jobName ?? '' })}</h1>
      <p>
        <Link to={`/jobs/${props.jobId}/${props.revision}`}>{say('ticket.back')}</Link>{' '}
        <span class="quiet">{say('review.revision', { number: props.revision })}</span>
      </p>
      {trouble !== null && <Trouble error={trouble} />}
      {facts === null || revision === null ? (
        trouble === null && <p role="status">{say('loading')}</p>
      ) : (
        <div class="note-and-paper">
          <section aria-labelledby="note-title">
            <h2 id="note-title">{say('note')}</h2>
            <NoteForm facts={facts} wish={wish} onWish={setWish} />
          </section>
          <NoteOut base={base} note={note} wish={wish} revision={revision} />
          <NotePreview facts={facts} />
          <NoteChoices choices={facts.choices} revision={revision} onDecided={job.again} />
          <OtherPapers
            base={base}
            language={wish.language ?? facts.usual.language}
            units={wish.units ?? facts.usual.units}
            hasProof={facts.hasProof}
            turn={turn}
          />
        </div>
      )}
    </main>
  );
}

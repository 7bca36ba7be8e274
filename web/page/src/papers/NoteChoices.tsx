import { useState } from 'preact/hooks';
import type { RevisionFacts } from '../../../shared/jobs.ts';
import type { NoteChoiceFacts } from '../../../shared/notes.ts';
import { DecisionDialog } from '../review/DecisionDialog.tsx';
import { decisionsAbout } from '../review/standing.ts';
import { useWords } from '../words/useWords.ts';

/** Every point of the report with who settles it; a choice is a decision with a reason, and can be undone. */
export function NoteChoices(props: {
  readonly choices: readonly NoteChoiceFacts[];
  readonly revision: RevisionFacts;
  onDecided(): void;
}) {
  const { say } = useWords();
  return (
    <section aria-labelledby="note-choices">
      <h2 id="note-choices">{say('note.choices')}</h2>
      {props.choices.length === 0 ? (
        <p>{say('worklist.none')}</p>
      ) : (
        <ul class="note-choices">
          {props.choices.map((choice) => (
            <Choice key={JSON.stringify(choice.findings)} {...props} choice={choice} />
          ))}
        </ul>
      )}
    </section>
  );
}

function Choice(props: { readonly choice: NoteChoiceFacts; readonly revision: RevisionFacts; onDecided(): void }) {
  const { choice, revision } = props;
  const { say } = useWords();
  const [asking, setAsking] = useState<'accept' | 'ourselves' | 'undo' | null>(null);
  const isDecided = choice.by === 'ourselves' || choice.by === 'accepted';
  const decided = isDecided ? decisionsAbout(choice.findings, revision) : [];
  return (
    <li>
      <p>
        <strong>{say(`note.by.${choice.by}`)}</strong> {choice.said}
        {decided.length > 0 && <span class="quiet"> {decided[0].reason}</span>}
      </p>
      {choice.findings.length > 0 && (
        <div class="row">
          {isDecided ? (
            <button type="button" class="button" onClick={() => setAsking('undo')}>
              {say('note.askAfterAll')}
            </button>
          ) : (
            <>
              <button type="button" class="button" onClick={() => setAsking('ourselves')}>
                {say('decide.ourselves')}
              </button>
              <button type="button" class="button" onClick={() => setAsking('accept')}>
                {say('decide.accept')}
              </button>
            </>
          )}
        </div>
      )}
      {asking !== null && (
        <DecisionDialog
          kind={asking}
          about={choice.said}
          findings={choice.findings}
          decisionIds={decided.map(({ id }) => id)}
          undoWords={say('note.askAfterAll')}
          revision={revision}
          onDone={(isMade) => {
            setAsking(null);
            if (isMade) props.onDecided();
          }}
        />
      )}
    </li>
  );
}

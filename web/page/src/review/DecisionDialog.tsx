import { useEffect, useRef, useState } from 'preact/hooks';
import type { FindingKey, NewDecision, RevisionFacts } from '../../../shared/jobs.ts';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { change } from '../server/ask.ts';
import { nameHere } from '../settings.ts';
import { useWords } from '../words/useWords.ts';
import { NoteToCopy } from './NoteToCopy.tsx';

export type DecisionKind = 'release' | 'hold' | 'accept' | 'ourselves' | 'ask' | 'undo';

/** Asks for the reason, and once for the name; then tells the server. */
export function DecisionDialog(props: {
  readonly kind: DecisionKind;
  readonly revision: RevisionFacts;
  /** Of accepting and taking on: what is settled. */
  readonly findings?: readonly FindingKey[];
  /** Of undo: what is undone, and what that is about. */
  readonly decisionIds?: readonly number[];
  readonly about?: string;
  readonly undoWords?: string;
  onDone(isDecided: boolean): void;
}) {
  const { kind, revision } = props;
  const { say } = useWords();
  const needsReason = kind === 'accept' || kind === 'ourselves';
  const dialog = useRef<HTMLDialogElement>(null);
  const [reason, setReason] = useState('');
  const [error, setError] = useState<Error | null>(null);
  const [isSending, setSending] = useState(false);
  useEffect(() => {
    dialog.current!.showModal();
  }, []);
  const send = async (event: Event) => {
    event.preventDefault();
    setSending(true);
    try {
      for (const decision of decisionsOf(props, nameHere(), reason.trim()))
        await change('POST', `/api/jobs/${revision.jobId}/${revision.revision}/decisions`, decision);
      props.onDone(true);
    } catch (problem) {
      setError(problem as Error);
      setSending(false);
    }
  };
  return (
    <dialog ref={dialog} class="decision" aria-labelledby="decision-title" onClose={() => props.onDone(false)}>
      <form onSubmit={send}>
        <h2 id="decision-title">{say(`decide.${kind}Title`)}</h2>
        {props.about !== undefined && <p>{props.about}</p>}
        {kind === 'ask' && <NoteToCopy revision={revision} />}
        <label>
          {say(needsReason ? 'decide.reasonNeeded' : 'decide.reason')}
          <textarea
            rows={3}
            maxLength={2000}
            required={needsReason}
            value={reason}
            onInput={(event) => setReason(event.currentTarget.value)}
          />
        </label>
        <NameField />
        {error !== null && <Trouble error={error} />}
        <div class="row">
          <button type="submit" class="button strong" disabled={isSending}>
            {kind === 'undo' ? props.undoWords : say(`decide.${kind}`)}
          </button>
          <button type="button" class="button" onClick={() => dialog.current!.close()}>
            {say('cancel')}
          </button>
        </div>
      </form>
    </dialog>
  );
}

function decisionsOf(
  props: {
    readonly kind: DecisionKind;
    readonly findings?: readonly FindingKey[];
    readonly decisionIds?: readonly number[];
  },
  by: string,
  reason: string,
): NewDecision[] {
  const { kind, findings = [], decisionIds = [] } = props;
  if (kind === 'undo') return decisionIds.map((decisionId) => ({ kind: 'undo', by, reason, decisionId }));
  if (kind === 'accept' || kind === 'ourselves')
    return findings.map((finding) => ({
      ...{ by, reason, finding },
      kind: kind === 'accept' ? 'acceptFinding' : 'doOurselves',
    }));
  return [{ kind: kind === 'ask' ? 'askCustomer' : kind, by, reason }];
}

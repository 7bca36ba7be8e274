import type { Verdict } from '../../../../src/findings/outcome.ts';
import { verdictSign } from '../../../../src/report/verdictSign.ts';
import { useWords } from '../words/useWords.ts';
import { Drawn } from './Drawn.tsx';

/** The sign with the word beside it; nothing else says a verdict. */
export function VerdictSign({ verdict }: { readonly verdict: Verdict }) {
  const { say } = useWords();
  return (
    <span class="verdict">
      <Drawn drawing={verdictSign(verdict)} className="sign" isDecor />
      <span>{say(`verdict.${verdict}`)}</span>
    </span>
  );
}

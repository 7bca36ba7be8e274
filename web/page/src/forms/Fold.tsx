import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { useWords } from '../words/useWords.ts';
import { countGiven } from './schema.ts';

interface FoldProps {
  readonly label: string;
  readonly about: string;
  readonly value: unknown;
  readonly isOpen: boolean;
  readonly hasProblem: boolean;
  readonly children: ComponentChildren;
}

/** A group of values that can be folded away; folded, it says how many are given in it. */
export function Fold({ label, about, value, isOpen, hasProblem, children }: FoldProps) {
  const { say } = useWords();
  const [open, setOpen] = useState(isOpen);
  const count = countGiven(value);
  return (
    <details
      class="fold"
      aria-label={label}
      open={open || hasProblem}
      onToggle={({ currentTarget }) => setOpen(currentTarget.open)}
    >
      <summary>
        <strong>{label}</strong> <span class="quiet">{say('form.given', { count })}</span>
      </summary>
      {about !== '' && <p class="quiet">{about}</p>}
      {children}
    </details>
  );
}

import { useEffect, useState } from 'preact/hooks';
import { millimetresOf } from './millimetresOf.ts';

interface LengthInputProps {
  readonly common: Readonly<Record<string, unknown>>;
  readonly value: unknown;
  onValue(value: unknown): void;
}

/** A length in mm, which may be typed in inches: "1/4 in". What is no length goes on as it is, to be told by the server. */
export function LengthInput({ common, value, onValue }: LengthInputProps) {
  const [typed, setTyped] = useState(writtenOf(value));
  useEffect(() => {
    if (wantedOf(typed) !== value) setTyped(writtenOf(value));
  }, [value]);
  return (
    <input
      {...common}
      inputMode="decimal"
      value={typed}
      onInput={({ currentTarget }) => {
        setTyped(currentTarget.value);
        onValue(wantedOf(currentTarget.value));
      }}
      onBlur={() => setTyped(writtenOf(value))}
    />
  );
}

function wantedOf(typed: string): unknown {
  return typed.trim() === '' ? undefined : (millimetresOf(typed) ?? typed);
}

function writtenOf(value: unknown): string {
  return value === undefined || value === null ? '' : String(value);
}

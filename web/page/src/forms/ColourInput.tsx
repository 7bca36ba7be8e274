import { useWords } from '../words/useWords.ts';

interface ColourInputProps {
  readonly common: Readonly<Record<string, unknown>>;
  readonly label: string;
  readonly value: string;
  onValue(value: string): void;
}

/** A colour by its word or its six digits, or picked. */
export function ColourInput({ common, label, value, onValue }: ColourInputProps) {
  const { say } = useWords();
  const isHex = /^#[0-9a-f]{6}$/i.test(value.trim());
  return (
    <div class="colour-input">
      <input {...common} maxLength={40} value={value} onInput={({ currentTarget }) => onValue(currentTarget.value)} />
      <input
        type="color"
        aria-label={say('form.pick', { name: label })}
        value={isHex ? value.trim() : '#ffffff'}
        onInput={({ currentTarget }) => onValue(currentTarget.value)}
      />
    </div>
  );
}

import { useState } from 'preact/hooks';
import { remember, remembered } from '../settings.ts';
import { useWords } from '../words/useWords.ts';

/** Asks once who sits here; this browser remembers it. */
export function NameField() {
  const { say } = useWords();
  const [name, setName] = useState(remembered('name') ?? '');
  return (
    <label class="name-field">
      {say('decide.name')}
      <input
        required
        maxLength={80}
        autocomplete="name"
        value={name}
        onInput={({ currentTarget }) => {
          setName(currentTarget.value);
          remember('name', currentTarget.value.trim());
        }}
      />
    </label>
  );
}

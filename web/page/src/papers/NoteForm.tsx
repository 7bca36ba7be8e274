import { longestExtra, longestGreeting, type NoteAsk, type NoteFacts } from '../../../shared/notes.ts';
import { useWords } from '../words/useWords.ts';
import { languageNames, languages } from '../words/wordsIn.ts';

/** What may be changed of a note; what stays empty is as the shop's file says. */
export function NoteForm(props: { readonly facts: NoteFacts; readonly wish: NoteAsk; onWish(wish: NoteAsk): void }) {
  const { facts, wish } = props;
  const { say } = useWords();
  const put = (name: keyof NoteAsk) => (event: { readonly currentTarget: { readonly value: string } }) =>
    props.onWish({ ...wish, [name]: event.currentTarget.value });
  return (
    <form class="note-form" onSubmit={(event) => event.preventDefault()}>
      <label>
        {say('note.language')}
        <select value={wish.language ?? facts.usual.language} onChange={put('language')}>
          {languages.map((one) => (
            <option key={one} value={one} lang={one}>
              {languageNames[one]}
            </option>
          ))}
        </select>
      </label>
      <label>
        {say('note.units')}
        <select value={wish.units ?? facts.usual.units} onChange={put('units')}>
          <option value="mm">{say('units.mm')}</option>
          <option value="inch">{say('units.inch')}</option>
        </select>
      </label>
      <label>
        {say('note.customer')}
        <input maxLength={200} value={wish.customer ?? facts.usual.customer} onInput={put('customer')} />
      </label>
      <label>
        {say('note.answerBy')}
        <input type="date" value={wish.answerBy ?? facts.usual.answerBy ?? ''} onInput={put('answerBy')} />
      </label>
      <label class="across">
        {say('note.greeting')}
        <input
          maxLength={longestGreeting}
          placeholder={facts.note.greeting}
          value={wish.greeting ?? ''}
          onInput={put('greeting')}
        />
      </label>
      <label class="across">
        {say('note.extra')}
        <textarea rows={2} maxLength={longestExtra} value={wish.extra ?? ''} onInput={put('extra')} />
      </label>
      {facts.hasBefore && (
        <label class="check across">
          <input
            type="checkbox"
            checked={wish.since !== 'none'}
            onChange={(event) => {
              const { since: _, ...rest } = wish;
              props.onWish(event.currentTarget.checked ? rest : { ...rest, since: 'none' });
            }}
          />
          {say('note.since')}
        </label>
      )}
    </form>
  );
}

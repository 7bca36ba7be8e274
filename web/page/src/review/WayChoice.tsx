import { type Way, ways } from '../table/looks.ts';
import { useWords } from '../words/useWords.ts';

/** Ways of seeing, named for what one sees. */
export function WayChoice(props: { readonly way: Way; readonly onWay: (way: Way) => void }) {
  const { say } = useWords();
  return (
    <fieldset class="ways">
      <legend class="unseen">{say('ways')}</legend>
      {ways.map((way) => (
        <label key={way} class="way">
          <input type="radio" name="way" checked={way === props.way} onChange={() => props.onWay(way)} />
          <span>{say(`way.${way}`)}</span>
        </label>
      ))}
    </fieldset>
  );
}

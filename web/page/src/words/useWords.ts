import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { type Words, wordsIn } from './wordsIn.ts';

export const WordsContext = createContext<Words>(wordsIn('en'));

export function useWords(): Words {
  return useContext(WordsContext);
}

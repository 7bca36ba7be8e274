import { ReusedWords } from '../raster/reusedWords.ts';

/** As much as a plate takes, for one step of `measureDetail` after the other. */
export const plateWords = new ReusedWords();

/** The strips of rows that are peeled, and what is left out of them. */
export const stripWords = {
  core: new ReusedWords(),
  half: new ReusedWords(),
  broad: new ReusedWords(),
  left: new ReusedWords(),
};

import '@fontsource/source-sans-3/latin-400.css';
import '@fontsource/source-sans-3/latin-600.css';
import '@fontsource/source-sans-3/latin-ext-400.css';
import '@fontsource/source-sans-3/latin-ext-600.css';
import './customer.css';
import { sendFiles } from './sendFiles.ts';
import { waitForChange } from './waitForChange.ts';

// The page is whole without this: it sends files, which go in pieces, and looks whether the check has ended.
const { path, mark, waits } = document.body.dataset;
if (path !== undefined && mark !== undefined) {
  const form = document.querySelector<HTMLFormElement>('#send-form');
  if (form !== null) sendFiles(form, path);
  if (waits === 'yes') waitForChange(path, mark);
}

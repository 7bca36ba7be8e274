import type { WriteStream } from 'node:tty';
import type { Progress } from '../src/inspect/measureJob.ts';

const words: Record<Parameters<Progress>[0], string> = {
  reading: 'reading the files',
  drawing: 'drawing the plates',
  measuring: 'measuring the plates',
  comparing: 'laying plates on each other',
  judging: 'judging',
  picturing: 'taking pictures',
};
const barLength = 24;

/** A line on a terminal that says how far the work is; nothing at all where there is no terminal. */
export function progressLine(
  stream: WriteStream,
  wanted: boolean,
): { show: Progress; say(text: string): void; clear(): void } {
  const alive = wanted && stream.isTTY;
  const write = (text: string) => {
    if (alive) stream.write(`\r\u001b[2K${text}`);
  };
  return {
    show: (stage, done, total) => {
      const filled = total === 0 ? barLength : Math.round((barLength * done) / total);
      write(
        `  ${'▪'.repeat(filled)}${'·'.repeat(barLength - filled)}  ${words[stage]}${total > 1 ? ` ${done}/${total}` : ''}`,
      );
    },
    say: (text) => write(`  ${text}`),
    clear: () => write(''),
  };
}

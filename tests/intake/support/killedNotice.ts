import { runNoticeCommand } from '../../../src/intake/noticeCommand.ts';

/** Tells one notice by a command: FOLDER COMMAND. */
const [folder, command] = process.argv.slice(2);
await runNoticeCommand(folder, command, 'notice.command:1:1000', '{"job":"a.svg"}', 60_000);

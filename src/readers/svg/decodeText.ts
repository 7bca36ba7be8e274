import { gunzipSync, constants as zlib } from 'node:zlib';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { maxCharacters } from './limits.ts';

export interface DecodedText {
  readonly text: string;
  /** The encoding was guessed because the bytes are not what the file declares. */
  readonly guessedEncoding: string | null;
}

/**
 * The characters of an SVG file: unpacked when it is gzip (RFC 1952), decoded by its byte order mark, else by its XML
 * declaration, else as UTF-8 (XML 1.0, appendix F). Bytes that are not UTF-8 are taken as Windows-1252 and reported.
 */
export function decodeSvgText(fileName: string, bytes: Uint8Array): DecodedText {
  if (bytes.length === 0) {
    throw new UnreadableFilmError('empty-file', fileName, 'The file is empty.', 'Export or send the file again.');
  }
  const decoded = decodeXmlBytes(isGzip(bytes) ? unpack(fileName, bytes) : bytes);
  if (decoded.text.length > maxCharacters) throw tooLarge(fileName);
  return decoded;
}

/** The start of a file as text for telling formats apart; never throws. */
export function decodeHead(head: Uint8Array): string {
  try {
    const plain = isGzip(head)
      ? gunzipSync(head, { finishFlush: zlib.Z_SYNC_FLUSH, maxOutputLength: 1_000_000 })
      : head;
    return decodeXmlBytes(plain.subarray(0, 8192)).text;
  } catch {
    return '';
  }
}

function isGzip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x1f && bytes[1] === 0x8b;
}

function unpack(fileName: string, bytes: Uint8Array): Uint8Array {
  try {
    return gunzipSync(bytes, { maxOutputLength: 2 * maxCharacters });
  } catch (error) {
    const code = (error as { code?: string }).code;
    if (code === 'ERR_BUFFER_TOO_LARGE') throw tooLarge(fileName);
    throw new UnreadableFilmError(
      code === 'Z_BUF_ERROR' ? 'truncated-file' : 'damaged-file',
      fileName,
      code === 'Z_BUF_ERROR' ? 'The packed file ends before its end.' : 'The packed file cannot be unpacked.',
      'Send the file again, or save it as plain SVG.',
      error,
    );
  }
}

function tooLarge(fileName: string): UnreadableFilmError {
  return new UnreadableFilmError(
    'too-large',
    fileName,
    `The file holds more than ${maxCharacters / 1_000_000} million characters.`,
    'Save it without embedded pictures, or export it as PDF or as films in TIFF.',
  );
}

function decodeXmlBytes(bytes: Uint8Array): DecodedText {
  const [b0, b1, b2] = bytes;
  if (b0 === 0xef && b1 === 0xbb && b2 === 0xbf) return decodeAs('utf-8', bytes);
  if ((b0 === 0xff && b1 === 0xfe) || (b0 === 0x3c && b1 === 0x00)) return decodeAs('utf-16le', bytes);
  if ((b0 === 0xfe && b1 === 0xff) || (b0 === 0x00 && b1 === 0x3c)) return decodeAs('utf-16be', bytes);
  const start = String.fromCharCode(...bytes.subarray(0, 200));
  const declared = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([\w.:-]+)["']/.exec(start)?.[1].toLowerCase();
  if (declared !== undefined && !declared.startsWith('utf-16')) {
    try {
      return decodeAs(declared, bytes);
    } catch {
      return { ...decodeAs('utf-8', bytes), guessedEncoding: 'utf-8' };
    }
  }
  return decodeAs('utf-8', bytes);
}

function decodeAs(label: string, bytes: Uint8Array): DecodedText {
  const decoder = new TextDecoder(label, { fatal: label === 'utf-8' });
  try {
    return { text: decoder.decode(bytes), guessedEncoding: null };
  } catch {
    return { text: new TextDecoder('windows-1252').decode(bytes), guessedEncoding: 'windows-1252' };
  }
}

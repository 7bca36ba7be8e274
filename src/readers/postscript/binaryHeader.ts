const binaryHeaderBytes = 30;

/** Whether a file begins as PostScript, or as EPS with the binary header that carries a preview (EPSF 3.0, section 5.2). */
export function startsAsPostscript(head: Uint8Array): boolean {
  // Some systems put a Ctrl-D before the first line.
  const start = head[0] === 4 ? 1 : 0;
  return hasBinaryHeader(head) || [0x25, 0x21, 0x50, 0x53].every((byte, i) => head[start + i] === byte);
}

/** The PostScript of a file without preview; null when the header points past the end. */
export function postscriptOf(bytes: Uint8Array): Uint8Array | null {
  if (!hasBinaryHeader(bytes)) return bytes;
  if (bytes.length < binaryHeaderBytes) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const start = view.getUint32(4, true);
  const length = view.getUint32(8, true);
  return length === 0 || start + length > bytes.length ? null : bytes.subarray(start, start + length);
}

function hasBinaryHeader(bytes: Uint8Array): boolean {
  return bytes[0] === 0xc5 && bytes[1] === 0xd0 && bytes[2] === 0xd3 && bytes[3] === 0xc6;
}

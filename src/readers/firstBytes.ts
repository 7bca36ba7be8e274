import { decodeHead } from './svg/decodeText.ts';

/** What the first bytes of a file say it is; names are never trusted. */

export function isTiff(head: Uint8Array): boolean {
  const order = head[0] === 0x49 && head[1] === 0x49 ? 'little' : head[0] === 0x4d && head[1] === 0x4d ? 'big' : null;
  if (order === null) return false;
  const version = order === 'little' ? head[2] | (head[3] << 8) : (head[2] << 8) | head[3];
  return version === 42 || version === 43;
}

export function isPng(head: Uint8Array): boolean {
  return [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a].every((byte, i) => head[i] === byte);
}

export function isJpeg(head: Uint8Array): boolean {
  return head[0] === 0xff && head[1] === 0xd8 && head[2] === 0xff;
}

export function isWebp(head: Uint8Array): boolean {
  return new TextDecoder('latin1').decode(head.subarray(0, 12)).replace(/^RIFF.{4}/s, 'RIFF') === 'RIFFWEBP';
}

/** Version 1 (PSD) or 2 (PSB). */
export function isPsd(head: Uint8Array): boolean {
  return head[0] === 0x38 && head[1] === 0x42 && head[2] === 0x50 && head[3] === 0x53 && head[4] === 0 && head[5] <= 2;
}

/** Where `%PDF-` stands within the first 1,024 bytes, or -1: junk before it is usual. */
export function pdfHeaderOffset(head: Uint8Array): number {
  const end = Math.min(head.length - 4, 1024);
  for (let at = 0; at < end; at++) {
    if (
      head[at] === 0x25 &&
      head[at + 1] === 0x50 &&
      head[at + 2] === 0x44 &&
      head[at + 3] === 0x46 &&
      head[at + 4] === 0x2d
    ) {
      return at;
    }
  }
  return -1;
}

export function isPdf(head: Uint8Array): boolean {
  return pdfHeaderOffset(head) >= 0;
}

export function isSvg(head: Uint8Array): boolean {
  return /<!DOCTYPE\s+svg\b|<(?:[\w.-]+:)?svg[\s>/]/i.test(decodeHead(head));
}

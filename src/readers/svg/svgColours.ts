import { clampGamut, converter, inGamut, parse } from 'culori';

/** A colour of the file in sRGB, each part 0–255 rounded half up, and its alpha. */
export interface FlatColour {
  /** `#rrggbb`. */
  readonly hex: string;
  readonly alpha: number;
  /** The colour as written lies outside sRGB; `hex` is the nearest inside. */
  readonly outOfGamut: boolean;
}

const toRgb = converter('rgb');
const clampToRgb = clampGamut('rgb');
const cache = new Map<string, FlatColour | null>();

/** A CSS colour (CSS Color 4) other than `currentColor`, or null when it is none. */
export function parseColour(text: string): FlatColour | null {
  const key = text.trim().toLowerCase();
  const known = cache.get(key);
  if (known !== undefined) return known;
  const colour = parseColourAfresh(key);
  if (cache.size > 10_000) cache.clear();
  cache.set(key, colour);
  return colour;
}

function parseColourAfresh(text: string): FlatColour | null {
  const parsed = parse(text);
  if (parsed === undefined) return null;
  const legacy = parsed.mode === 'rgb' || parsed.mode === 'hsl' || parsed.mode === 'hwb';
  const outOfGamut = !legacy && !inGamut('rgb')(parsed);
  const rgb = toRgb(legacy ? parsed : clampToRgb(parsed))!;
  const hex = [rgb.r, rgb.g, rgb.b].map((part) => byteOf(part).toString(16).padStart(2, '0')).join('');
  return { hex: `#${hex}`, alpha: Math.min(1, Math.max(0, parsed.alpha ?? 1)), outOfGamut };
}

/** Half rounds up; the tiny excess keeps 127.5 up when it arrives as 127.49999999999999. */
function byteOf(part: number): number {
  return Math.round(Math.min(255, Math.max(0, (Number.isNaN(part) ? 0 : part) * 255)) + 1e-9);
}

export interface PaintText {
  readonly kind: 'none' | 'colour' | 'current' | 'context-fill' | 'context-stroke' | 'server';
  /** Id of the paint server. */
  readonly server?: string;
  readonly colour?: FlatColour;
  /** What stands after the server's reference. */
  readonly fallback?: PaintText;
  /** The spot colour the file names beside the fallback colour. */
  readonly spot?: { readonly name: string; readonly tintRatio: number };
}

/** The value of `fill` or `stroke` (SVG 2, 13.2), or null when it is not valid. */
export function parsePaint(text: string): PaintText | null {
  const value = text.trim();
  const lower = value.toLowerCase();
  if (lower === 'none') return { kind: 'none' };
  if (lower === 'currentcolor') return { kind: 'current' };
  if (lower === 'context-fill' || lower === 'context-stroke') return { kind: lower };
  const reference = /^url\(\s*(["']?)([^"')]*)\1\s*\)\s*(.*)$/is.exec(value);
  if (reference !== null) {
    const fallback = reference[3] === '' ? undefined : (parsePaint(reference[3]) ?? undefined);
    return { kind: 'server', server: localId(reference[2]) ?? reference[2], fallback };
  }
  const icc =
    /^(.*?)\s*\b(icc-named-color|device-nchannel|icc-color|device-cmyk|device-gray|device-rgb)\((.*)\)\s*$/is.exec(
      value,
    );
  if (icc !== null && icc[1] !== '') {
    const base = parsePaint(icc[1]);
    const spot = spotOf(icc[2].toLowerCase(), icc[3]);
    return base?.kind === 'colour' && spot !== null ? { ...base, spot } : base;
  }
  const colour = parseColour(value);
  return colour === null ? null : { kind: 'colour', colour };
}

/** The name of `icc-named-color(profile, Name)`, or the name and tint of a one-colour `device-nchannel(…)`. */
function spotOf(kind: string, argument: string): { name: string; tintRatio: number } | null {
  const words = (argument.match(/"[^"]*"|'[^']*'|[^\s,]+/g) ?? []).map((word) => word.replace(/^["']|["']$/g, ''));
  const isNumber = (word: string) => word.trim() !== '' && Number.isFinite(Number(word));
  if (kind === 'icc-named-color') {
    const name = words.slice(1).join(' ').trim();
    return name === '' ? null : { name, tintRatio: 1 };
  }
  if (kind !== 'device-nchannel') return null;
  const names = words.filter((word) => !isNumber(word));
  const numbers = words.filter(isNumber).map(Number);
  if (names.length !== 1) return null;
  return { name: names[0], tintRatio: Math.min(1, Math.max(0, numbers[0] ?? 1)) };
}

/** The id a reference within the document points to, or null for anything outside it. */
export function localId(reference: string | undefined): string | null {
  const text = reference?.trim() ?? '';
  if (!text.startsWith('#')) return null;
  try {
    return decodeURIComponent(text.slice(1));
  } catch {
    return text.slice(1);
  }
}

/** The id in `url(#id)`, null for `none` or anything else. */
export function urlId(text: string | undefined): string | null {
  const match = /^\s*url\(\s*(["']?)([^"')]*)\1\s*\)/i.exec(text ?? '');
  return match === null ? null : localId(match[2]);
}

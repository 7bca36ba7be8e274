import type { FilmInk, InkKind } from '../../artwork/ink.ts';
import { decodeByteText } from './pdfValues.ts';

export const allKey = 'all';
export const whiteKey = 'white';
export const processKeys = ['process:cyan', 'process:magenta', 'process:yellow', 'process:black'] as const;
export const blackKey = processKeys[3];

const processNames = ['Cyan', 'Magenta', 'Yellow', 'Black'];
const processHex = ['#00a0e0', '#e0007a', '#fff000', '#1a1a1a'];

/** Most unnamed colours that are taken for inks of their own; beyond them the art is a picture in colour. */
export const maxFlatInks = 32;

/** The inks met while a page is walked, in order of first sight. */
export class InkBook {
  private readonly inks = new Map<string, { name: string; kind: InkKind; displayHex: string; used: boolean }>();
  /** Distinct unnamed colours met beyond `maxFlatInks`. */
  readonly surplusColours = new Set<string>();
  private flatCount = 0;

  /** Key of a colorant as the file names it (one character a byte); null for `None`. */
  keyOfColorant(rawName: string, displayHex: () => string): string | null {
    if (rawName === 'None') return null;
    if (rawName === 'All') return this.declare(allKey, 'All', 'registration', '#000000');
    const process = processNames.indexOf(rawName);
    if (process >= 0) return this.declareProcess(process);
    const name = decodeByteText(rawName);
    const key = `spot:${name}`;
    return this.inks.has(key) ? key : this.declare(key, name, 'spot', displayHex());
  }

  declareProcess(index: number): string {
    return this.declare(processKeys[index], processNames[index], 'process', processHex[index]);
  }

  /** Key of an unnamed colour; null when there are too many of them. */
  keyOfFlat(hex: string): string | null {
    if (hex === '#ffffff') return this.declare(whiteKey, 'white', 'flat', hex);
    if (this.inks.has(hex)) return hex;
    if (this.flatCount >= maxFlatInks) {
      this.surplusColours.add(hex);
      return null;
    }
    this.flatCount++;
    return this.declare(hex, hex, 'flat', hex);
  }

  markUsed(key: string): void {
    const ink = this.inks.get(key);
    if (ink) ink.used = true;
    else {
      const process = (processKeys as readonly string[]).indexOf(key);
      if (process >= 0) {
        this.declareProcess(process);
        this.markUsed(key);
      }
    }
  }

  isUsed(key: string): boolean {
    return this.inks.get(key)?.used ?? false;
  }

  list(): FilmInk[] {
    return [...this.inks].map(([key, ink]) => ({ key, ...ink }));
  }

  private declare(key: string, name: string, kind: InkKind, displayHex: string): string {
    if (!this.inks.has(key)) this.inks.set(key, { name, kind, displayHex, used: false });
    return key;
  }
}

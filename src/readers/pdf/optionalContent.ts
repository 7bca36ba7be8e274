import { type PDFDict, type PDFObject, PDFRef } from '@cantoo/pdf-lib';
import { asDict, asName, asText, type PdfValues } from './pdfValues.ts';

const maxNesting = 16;

/** Layers of a document in the state the default configuration gives them (ISO 32000-1, 8.11). */
export class Layers {
  private readonly values: PdfValues;
  private readonly off = new Set<PDFDict>();

  constructor(values: PdfValues, catalog: PDFDict | null) {
    this.values = values;
    const properties = values.dict(catalog, 'OCProperties');
    const config = values.dict(properties, 'D');
    const set = (key: string) => (values.listOf(config, key) ?? []).map(asDict).filter((dict) => dict !== null);
    if (values.name(config, 'BaseState') === 'OFF') {
      for (const group of values.listOf(properties, 'OCGs') ?? []) {
        const dict = asDict(group);
        if (dict) this.off.add(dict);
      }
    }
    for (const group of set('OFF')) this.off.add(group);
    for (const group of set('ON')) this.off.delete(group);
  }

  /** Whether content under this group or membership dictionary is shown. */
  isOn(object: PDFObject | null, nesting = 0): boolean {
    const dict = asDict(this.values.resolve(object));
    if (!dict || nesting > maxNesting) return true;
    if (this.values.name(dict, 'Type') !== 'OCMD') return !this.off.has(dict);
    const expression = this.values.listOf(dict, 'VE');
    if (expression) return this.evaluated(expression, nesting + 1);
    const groups = this.values.get(dict, 'OCGs');
    const states = (this.values.list(groups) ?? (groups ? [groups] : [])).map((group) => this.isOn(group, nesting + 1));
    if (states.length === 0) return true;
    switch (this.values.name(dict, 'P')) {
      case 'AllOn':
        return states.every((on) => on);
      case 'AnyOff':
        return states.some((on) => !on);
      case 'AllOff':
        return states.every((on) => !on);
      default:
        return states.some((on) => on);
    }
  }

  /** Name of the layer as people gave it, or null for a membership dictionary without one. */
  nameOf(object: PDFObject | null): string | null {
    const dict = asDict(this.values.resolve(object));
    const own = asText(this.values.get(dict, 'Name'));
    if (own) return own;
    const groups = this.values.get(dict, 'OCGs');
    const first = asDict(this.values.list(groups)?.[0] ?? groups);
    return first && first !== dict ? asText(this.values.get(first, 'Name')) : null;
  }

  private evaluated(expression: readonly (PDFObject | null)[], nesting: number): boolean {
    if (nesting > maxNesting) return true;
    const terms = expression.slice(1).map((term) => {
      const nested = term instanceof PDFRef ? null : this.values.list(term);
      return nested ? this.evaluated(nested, nesting + 1) : this.isOn(term, nesting + 1);
    });
    switch (asName(expression[0])) {
      case 'Not':
        return !terms[0];
      case 'Or':
        return terms.some((on) => on);
      default:
        return terms.every((on) => on);
    }
  }
}

import type * as css from 'css-tree';
import { matchesSelector } from './matchSelector.ts';
import { inheritedProperties, initialValues, isPresentationAttribute } from './properties.ts';
import type { StyleDeclaration, StyleRule, StyleSheet } from './styleSheet.ts';
import { parseStyleAttribute } from './styleSheet.ts';
import { parseColour, parsePaint } from './svgColours.ts';
import type { SvgElement } from './svgElement.ts';
import { isLength, parseLength, parseRatio } from './svgLengths.ts';

/** Computed values by property; absent ones have their initial value. Custom properties are among them. */
export type Style = Readonly<Record<string, string>>;

export interface Cascade {
  /** The style of an element under a parent of this style; `null` for the root. */
  styleOf(element: SvgElement, parent: Style | null): Style;
}

interface Candidate extends StyleDeclaration {
  readonly rank: number;
}

/**
 * The cascade of an author's sheets, style attributes and presentation attributes (CSS Cascading 4, 6; SVG 2, 6.6).
 * Declarations that cannot be read are ignored, so that the next one or the inherited value holds.
 */
export function createCascade(sheet: StyleSheet, onProblem: (element: SvgElement, message: string) => void): Cascade {
  const buckets = bucketRules(sheet.rules);
  const declared = new Map<SvgElement, ReadonlyMap<string, string>>();
  const attributeCache = new Map<string, readonly StyleDeclaration[]>();

  const declarationsOf = (element: SvgElement): ReadonlyMap<string, string> => {
    const known = declared.get(element);
    if (known !== undefined) return known;
    const candidates: Candidate[] = [];
    for (const [name, value] of element.attributes) {
      if (isPresentationAttribute(name, element.name)) {
        for (const one of expanded({ property: name, value: value.trim(), important: false }))
          candidates.push({ ...one, rank: 0 });
      }
    }
    for (const rule of rulesFor(buckets, element)) {
      if (!matchesSelector(element, rule.selector)) continue;
      const rank = 1 + rule.specificity + rule.order * 1e-7;
      for (const declaration of rule.declarations) {
        for (const one of expanded(declaration)) candidates.push({ ...one, rank });
      }
    }
    const attribute = element.attributes.get('style');
    if (attribute !== undefined) {
      let list = attributeCache.get(attribute);
      if (list === undefined) {
        list = parseStyleAttribute(attribute, (message) => onProblem(element, message)).flatMap(expanded);
        attributeCache.set(attribute, list);
      }
      for (const declaration of list) candidates.push({ ...declaration, rank: 1e12 });
    }
    const winners = new Map<string, Candidate>();
    for (const candidate of candidates) {
      const current = winners.get(candidate.property);
      const beats =
        current === undefined ||
        (candidate.important !== current.important ? candidate.important : candidate.rank >= current.rank);
      if (!beats) continue;
      if (isValidValue(candidate.property, candidate.value)) winners.set(candidate.property, candidate);
      else onProblem(element, `${candidate.property}: ${candidate.value}`);
    }
    const values = new Map([...winners].map(([property, winner]) => [property, winner.value]));
    declared.set(element, values);
    return values;
  };

  const styleOf = (element: SvgElement, parent: Style | null): Style => {
    const style: Record<string, string> = {};
    for (const property in parent) {
      if (inheritedProperties.has(property) || property.startsWith('--')) style[property] = parent[property];
    }
    const values = declarationsOf(element);
    for (const [property, value] of values) {
      if (property.startsWith('--')) setValue(style, property, value, parent);
    }
    for (const [property, raw] of values) {
      if (property.startsWith('--')) continue;
      if (!raw.includes('var(')) setValue(style, property, raw, parent);
      else {
        const value = replaceVariables(raw, style, 0);
        if (value !== null && isValidValue(property, value)) setValue(style, property, value, parent);
        else {
          onProblem(element, `${property}: ${raw}`);
          setValue(style, property, 'unset', parent);
        }
      }
    }
    style['font-size'] = String(fontSizeOf(values.has('font-size') ? style['font-size'] : undefined, parent));
    return style;
  };
  return { styleOf };
}

/** Shorthands as their longhands. */
function expanded(declaration: StyleDeclaration): readonly StyleDeclaration[] {
  const { property, value } = declaration;
  if (property === 'marker') {
    return ['marker-start', 'marker-mid', 'marker-end'].map((longhand) => ({ ...declaration, property: longhand }));
  }
  if (property === 'font') {
    const match = /^(.*?)\s*([\d.]+(?:px|pt|mm|cm|in|pc|q|em|ex|rem|%))(?:\s*\/\s*\S+)?\s+(.+)$/i.exec(value);
    if (match === null) return [];
    const words = match[1].split(/\s+/);
    const style = words.find((word) => /^(italic|oblique)$/i.test(word)) ?? 'normal';
    const weight = words.find((word) => /^(bold|bolder|lighter|\d00)$/i.test(word)) ?? 'normal';
    const longhands = { 'font-style': style, 'font-weight': weight, 'font-size': match[2], 'font-family': match[3] };
    return Object.entries(longhands).map(([longhand, part]) => ({ ...declaration, property: longhand, value: part }));
  }
  return [declaration];
}

function setValue(style: Record<string, string>, property: string, value: string, parent: Style | null): void {
  const keyword = value.toLowerCase();
  const inherits = inheritedProperties.has(property) || property.startsWith('--');
  if (keyword === 'inherit' || ((keyword === 'unset' || keyword === 'revert') && inherits)) {
    if (parent?.[property] === undefined) delete style[property];
    else style[property] = parent[property];
  } else if (keyword === 'initial' || keyword === 'unset' || keyword === 'revert') delete style[property];
  else style[property] = value;
}

/** `var()` replaced (CSS Custom Properties 1, 3), or null when a property is missing and there is no fallback. */
function replaceVariables(text: string, style: Style, depth: number): string | null {
  const start = text.indexOf('var(');
  if (start < 0) return text.trim();
  if (depth > 50 || text.length > 10_000) return null;
  let end = start + 4;
  for (let open = 1; end < text.length && open > 0; end++) {
    if (text[end] === '(') open++;
    else if (text[end] === ')') open--;
  }
  const inside = text.slice(start + 4, end - 1);
  const comma = inside.indexOf(',');
  const name = (comma < 0 ? inside : inside.slice(0, comma)).trim();
  const fallback = comma < 0 ? null : inside.slice(comma + 1).trim();
  const own = style[name];
  const value = (own === undefined ? null : replaceVariables(own, style, depth + 1)) ?? fallback;
  return value === null ? null : replaceVariables(text.slice(0, start) + value + text.slice(end), style, depth + 1);
}

const fontSizeWords: Readonly<Record<string, number>> = {
  'xx-small': 9.6,
  'x-small': 12,
  small: 14.222,
  medium: 16,
  large: 19.2,
  'x-large': 24,
  'xx-large': 32,
};

function fontSizeOf(value: string | undefined, parent: Style | null): number {
  const inherited = parent === null ? 16 : Number(parent['font-size'] ?? 16);
  if (value === undefined) return inherited;
  const word = fontSizeWords[value.toLowerCase()];
  if (word !== undefined) return word;
  if (value === 'larger') return inherited * 1.2;
  if (value === 'smaller') return inherited / 1.2;
  if (value.endsWith('%')) return (inherited * Number.parseFloat(value)) / 100;
  const context = { viewportWidth: 0, viewportHeight: 0, fontSize: inherited, rootFontSize: 16 };
  return parseLength(value, 'other', context) ?? inherited;
}

const wideKeywords = /^(inherit|initial|unset|revert)$/i;
const lengthProperties = new Set([
  'stroke-width',
  'stroke-dashoffset',
  'x',
  'y',
  'width',
  'height',
  'cx',
  'cy',
  'r',
  'rx',
  'ry',
]);
const words: Readonly<Record<string, RegExp>> = {
  'fill-rule': /^(nonzero|evenodd)$/i,
  'clip-rule': /^(nonzero|evenodd)$/i,
  'stroke-linecap': /^(butt|round|square)$/i,
  'stroke-linejoin': /^(miter|miter-clip|round|bevel|arcs)$/i,
  visibility: /^(visible|hidden|collapse)$/i,
};

function isValidValue(property: string, value: string): boolean {
  if (value === '') return property.startsWith('--');
  if (property.startsWith('--') || value.includes('var(') || wideKeywords.test(value)) return true;
  if (property === 'fill' || property === 'stroke') return parsePaint(value) !== null;
  if (property === 'color' || property === 'stop-color') {
    return /^currentcolor$/i.test(value) || parseColour(value) !== null || parsePaint(value)?.kind === 'colour';
  }
  if (lengthProperties.has(property)) {
    return value === 'auto' || (isLength(value) && !(property === 'stroke-width' && value.startsWith('-')));
  }
  if (/opacity$/.test(property)) return parseRatio(value) !== null;
  if (property === 'stroke-miterlimit') return Number(value) >= 1;
  return words[property]?.test(value) ?? true;
}

interface RuleBuckets {
  readonly byId: Map<string, StyleRule[]>;
  readonly byClass: Map<string, StyleRule[]>;
  readonly byType: Map<string, StyleRule[]>;
  readonly others: StyleRule[];
}

/** Rules by what the last part of their selector asks for, so that few are tried for an element. */
function bucketRules(rules: readonly StyleRule[]): RuleBuckets {
  const buckets: RuleBuckets = { byId: new Map(), byClass: new Map(), byType: new Map(), others: [] };
  for (const rule of rules) {
    const last: css.CssNode[] = [];
    for (const node of rule.selector.children) {
      if (node.type === 'Combinator') last.length = 0;
      else last.push(node);
    }
    const named = (type: string) => last.find((node) => node.type === type) as { name: string } | undefined;
    const id = named('IdSelector');
    const className = named('ClassSelector');
    const type = named('TypeSelector');
    const bucket =
      id !== undefined
        ? entry(buckets.byId, id.name)
        : className !== undefined
          ? entry(buckets.byClass, className.name)
          : type !== undefined && !/[*|]/.test(type.name)
            ? entry(buckets.byType, type.name)
            : buckets.others;
    bucket.push(rule);
  }
  return buckets;
}

function entry(map: Map<string, StyleRule[]>, key: string): StyleRule[] {
  let list = map.get(key);
  if (list === undefined) {
    list = [];
    map.set(key, list);
  }
  return list;
}

function rulesFor(buckets: RuleBuckets, element: SvgElement): StyleRule[] {
  const id = element.attributes.get('id');
  const classes = element.attributes.get('class');
  const found = [...buckets.others, ...(buckets.byType.get(element.localName) ?? [])];
  if (id !== undefined) found.push(...(buckets.byId.get(id) ?? []));
  if (classes !== undefined)
    for (const name of new Set(classes.split(/\s+/))) found.push(...(buckets.byClass.get(name) ?? []));
  return found;
}

export function styleValue(style: Style, property: string): string {
  return style[property] ?? initialValues[property] ?? '';
}

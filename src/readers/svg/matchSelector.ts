import type * as css from 'css-tree';
import { elementChildren, type SvgElement } from './svgElement.ts';

/** Whether an element is what a complex selector selects (Selectors 4), read from right to left. */
export function matchesSelector(element: SvgElement, selector: css.Selector): boolean {
  return matchesFrom(element, selector.children.toArray());
}

function matchesFrom(element: SvgElement, nodes: readonly css.CssNode[]): boolean {
  let start = nodes.length;
  while (start > 0 && nodes[start - 1].type !== 'Combinator') start--;
  for (let index = start; index < nodes.length; index++) if (!matchesSimple(element, nodes[index])) return false;
  if (start === 0) return true;
  const combinator = (nodes[start - 1] as css.Combinator).name.trim();
  const rest = nodes.slice(0, start - 1);
  switch (combinator) {
    case '>':
      return element.parent !== null && matchesFrom(element.parent, rest);
    case '+': {
      const before = siblingsOf(element)[element.elementIndex - 1];
      return before !== undefined && matchesFrom(before, rest);
    }
    case '~':
      return siblingsOf(element)
        .slice(0, element.elementIndex)
        .some((sibling) => matchesFrom(sibling, rest));
    case '':
      for (let parent = element.parent; parent !== null; parent = parent.parent) {
        if (matchesFrom(parent, rest)) return true;
      }
      return false;
    default:
      return false;
  }
}

const siblingCache = new WeakMap<SvgElement, SvgElement[]>();

function siblingsOf(element: SvgElement): readonly SvgElement[] {
  const { parent } = element;
  if (parent === null) return [element];
  const known = siblingCache.get(parent);
  if (known !== undefined) return known;
  const siblings = elementChildren(parent);
  siblingCache.set(parent, siblings);
  return siblings;
}

function matchesSimple(element: SvgElement, node: css.CssNode): boolean {
  switch (node.type) {
    case 'TypeSelector': {
      const name = node.name.slice(node.name.indexOf('|') + 1);
      return name === '*' || name === element.localName;
    }
    case 'IdSelector':
      return element.attributes.get('id') === node.name;
    case 'ClassSelector':
      return (element.attributes.get('class') ?? '').split(/\s+/).includes(node.name);
    case 'AttributeSelector':
      return matchesAttribute(element, node);
    case 'PseudoClassSelector':
      return matchesPseudoClass(element, node);
    default:
      return false;
  }
}

function matchesAttribute(element: SvgElement, node: css.AttributeSelector): boolean {
  const value = element.attributes.get(node.name.name.replace('|', ':'));
  if (value === undefined) return false;
  if (node.matcher === null || node.value === null) return true;
  const fold = node.flags?.toLowerCase() === 'i';
  const wantedText = node.value.type === 'String' ? node.value.value : node.value.name;
  const wanted = fold ? wantedText.toLowerCase() : wantedText;
  const actual = fold ? value.toLowerCase() : value;
  switch (node.matcher) {
    case '=':
      return actual === wanted;
    case '~=':
      return actual.split(/\s+/).includes(wanted);
    case '|=':
      return actual === wanted || actual.startsWith(`${wanted}-`);
    case '^=':
      return wanted !== '' && actual.startsWith(wanted);
    case '$=':
      return wanted !== '' && actual.endsWith(wanted);
    case '*=':
      return wanted !== '' && actual.includes(wanted);
    default:
      return false;
  }
}

function matchesPseudoClass(element: SvgElement, node: css.PseudoClassSelector): boolean {
  const name = node.name.toLowerCase();
  const argument = node.children?.first ?? null;
  switch (name) {
    case 'root':
      return element.parent === null;
    case 'empty':
      return element.children.length === 0;
    case 'first-child':
      return place(element, false, false) === 1;
    case 'last-child':
      return place(element, true, false) === 1;
    case 'only-child':
      return siblingsOf(element).length === 1;
    case 'first-of-type':
      return place(element, false, true) === 1;
    case 'last-of-type':
      return place(element, true, true) === 1;
    case 'only-of-type':
      return place(element, false, true) === 1 && place(element, true, true) === 1;
    case 'nth-child':
    case 'nth-last-child':
    case 'nth-of-type':
    case 'nth-last-of-type':
      if (argument?.type !== 'Nth') return false;
      return matchesNth(place(element, name.includes('last'), name.endsWith('of-type')), argument.nth);
    case 'is':
    case 'where':
    case 'matches':
      return anyOf(element, argument);
    case 'not':
      return argument?.type === 'SelectorList' && !anyOf(element, argument);
    default:
      return false;
  }
}

function anyOf(element: SvgElement, list: css.CssNode | null): boolean {
  if (list?.type !== 'SelectorList') return false;
  return list.children.some((selector) => selector.type === 'Selector' && matchesSelector(element, selector));
}

/** Place among the siblings from 1, from either end, among all or those of the same name. */
function place(element: SvgElement, fromEnd: boolean, sameType: boolean): number {
  const siblings = siblingsOf(element);
  if (!sameType) return fromEnd ? siblings.length - element.elementIndex : element.elementIndex + 1;
  const alike = siblings.filter((sibling) => sibling.localName === element.localName);
  const index = alike.indexOf(element);
  return fromEnd ? alike.length - index : index + 1;
}

function matchesNth(position: number, nth: css.AnPlusB | css.Identifier): boolean {
  if (nth.type === 'Identifier') return position % 2 === (nth.name.toLowerCase() === 'odd' ? 1 : 0);
  const step = coefficient(nth.a);
  const offset = Number(nth.b ?? 0);
  if (step === 0) return position === offset;
  const count = (position - offset) / step;
  return count >= 0 && Number.isInteger(count);
}

function coefficient(text: string | null): number {
  if (text === null) return 0;
  return text === '' || text === '+' ? 1 : text === '-' ? -1 : Number(text);
}

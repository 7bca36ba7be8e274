import { determinant } from '../../geometry/matrix.ts';
import { type Style, styleValue } from './cascade.ts';
import { white } from './clips.ts';
import type { Paint, TextRun } from './displayList.ts';
import { ratioOf, shapeLeaf, strokeOf } from './drawShape.ts';
import { isInvisible, isSeeThrough, resolvePaint } from './paints.ts';
import { shortNumber } from './paths.ts';
import { addLeaf, addNote, lengthContext, objectIdFor, quoted, type ResolveState, type Scope } from './resolveState.ts';
import { type SvgElement, textContent } from './svgElement.ts';
import { parseLength } from './svgLengths.ts';

const whitePaint: Paint = { kind: 'flat', swatch: { colour: white, alpha: 1, spot: null } };

const silentChildren = new Set(['title', 'desc', 'metadata']);

/** A live text: one leaf, drawn with whatever font is found. */
export function drawText(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  if (determinant(scope.matrix) === 0) return;
  const excerpt = textContent(element).replace(/\s+/g, ' ').trim();
  if (excerpt === '') return;
  const run = runOf(state, element, style, scope, 'text');
  const paints = paintsOf(run);
  const isShown = /^visible$/i.test(styleValue(style, 'visibility')) || hasShownPart(state, element, style);
  const isInvisibleText = paints.length === 0 || paints.every(isInvisible);
  const size = Math.sqrt(Math.abs(determinant(scope.matrix))) * Number(styleValue(style, 'font-size'));
  addLeaf(state, scope, {
    ...shapeLeaf(scope, [], whitePaint, 'nonzero'),
    kind: 'text',
    objectId: objectIdFor(state, scope, element, ''),
    paint: null,
    text: run,
    font: { family: familyOf(element, style, state), sizeMm: size, excerpt: excerpt.slice(0, 40) },
    boxMm: null,
    cullBoxMm: null,
    seeThrough: scope.seeThrough || paints.some(isSeeThrough),
    off: scope.off ?? (!isShown ? 'layerOff' : isInvisibleText ? 'transparent' : null),
  });
}

/** The family of the first part that has words of its own. */
function familyOf(element: SvgElement, style: Style, state: ResolveState): string {
  for (const child of element.children) {
    if (typeof child === 'string') {
      if (child.trim() !== '') return styleValue(style, 'font-family');
    } else if (child.name === 'tspan' && textContent(child).trim() !== '') {
      return familyOf(child, state.cascade.styleOf(child, style), state);
    }
  }
  return styleValue(style, 'font-family');
}

function hasShownPart(state: ResolveState, element: SvgElement, style: Style): boolean {
  return element.children.some((child) => {
    if (typeof child === 'string') return false;
    const own = state.cascade.styleOf(child, style);
    return /^visible$/i.test(styleValue(own, 'visibility')) && textContent(child).trim() !== '';
  });
}

export function paintsOf(run: TextRun): Paint[] {
  const own = [run.fill, run.stroke?.paint ?? null].filter((paint) => paint !== null);
  return [...own, ...run.children.flatMap((child) => (typeof child === 'string' ? [] : paintsOf(child)))];
}

function runOf(state: ResolveState, element: SvgElement, style: Style, scope: Scope, tag: 'text' | 'tspan'): TextRun {
  const paint = (property: 'fill' | 'stroke', alpha: number): Paint | null => {
    if (scope.mode === 'clip') return property === 'fill' ? whitePaint : null;
    const resolved = resolvePaint(state, scope, style, property, alpha, element);
    if (resolved?.kind !== 'pattern') return resolved;
    addNote(state, {
      code: 'pattern-not-drawn',
      message: `The text ${quoted(textContent(element))} is painted with a pattern, which is not drawn.`,
      affects: 'plate',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
    return null;
  };
  const strokePaint = paint('stroke', ratioOf(style, 'stroke-opacity'));
  const children: (TextRun | string)[] = [];
  for (const child of element.children) {
    if (typeof child === 'string') children.push(child);
    else if (child.name === 'tspan' || child.name === 'a') {
      const childStyle = state.cascade.styleOf(child, style);
      if (styleValue(childStyle, 'display') !== 'none') children.push(runOf(state, child, childStyle, scope, 'tspan'));
    } else if (child.name !== '' && !silentChildren.has(child.name)) {
      const onPath = child.name === 'textPath';
      addNote(state, {
        code: onPath ? 'text-on-path-not-drawn' : 'text-part-not-drawn',
        message: onPath
          ? `The text ${quoted(textContent(child))} runs along a path; it is not drawn.`
          : `The element ${quoted(child.name)} within a text is not drawn.`,
        affects: 'plate',
        objectId: element.attributes.get('id'),
        leaves: null,
      });
    }
  }
  return {
    tag,
    attributes: layoutAttributes(state, element, style, scope),
    fill: paint('fill', ratioOf(style, 'fill-opacity')),
    stroke: strokePaint === null ? null : { paint: strokePaint, stroke: strokeOf(state, style, scope) },
    children,
  };
}

const wordAttributes = [
  'font-style',
  'font-weight',
  'font-stretch',
  'font-variant',
  'text-anchor',
  'writing-mode',
  'direction',
  'text-decoration',
  'dominant-baseline',
  'visibility',
];

/** Places and fonts with every length in user units: the renderer's own idea of a mm is not ours. */
function layoutAttributes(state: ResolveState, element: SvgElement, style: Style, scope: Scope): string {
  const context = lengthContext(state, style, scope);
  const parts: [string, string][] = [];
  for (const [name, axis] of [
    ['x', 'x'],
    ['y', 'y'],
    ['dx', 'x'],
    ['dy', 'y'],
  ] as const) {
    const text = element.attributes.get(name);
    if (text === undefined) continue;
    const numbers = text
      .trim()
      .split(/[\s,]+/)
      .map((word) => parseLength(word, axis, context));
    if (numbers.every((value) => value !== null)) parts.push([name, numbers.map(shortNumber).join(' ')]);
  }
  const rotate = element.attributes.get('rotate');
  if (rotate !== undefined && /^[\d\s.,e+-]*$/i.test(rotate)) parts.push(['rotate', rotate]);
  const textLength = parseLength(element.attributes.get('textLength'), 'x', context);
  if (textLength !== null) parts.push(['textLength', shortNumber(textLength)]);
  parts.push(['font-size', shortNumber(context.fontSize)]);
  if (style['font-family'] !== undefined) parts.push(['font-family', style['font-family']]);
  for (const name of wordAttributes) if (/^[\w\s-]+$/.test(style[name] ?? '')) parts.push([name, style[name]]);
  for (const name of ['letter-spacing', 'word-spacing', 'baseline-shift']) {
    const value = style[name];
    if (value === undefined) continue;
    const length = parseLength(value, 'other', {
      ...context,
      viewportWidth: context.fontSize,
      viewportHeight: context.fontSize,
    });
    if (length !== null) parts.push([name, shortNumber(length)]);
    else if (/^(sub|super|baseline|normal)$/.test(value)) parts.push([name, value]);
  }
  const space = element.attributes.get('xml:space') ?? style['xml:space'];
  if (space === 'preserve' || /white-space:\s*pre/.test(element.attributes.get('style') ?? ''))
    parts.push(['xml:space', 'preserve']);
  return parts.map(([name, value]) => ` ${name}="${escaped(value)}"`).join('');
}

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

export function escaped(text: string): string {
  return text
    .replace(/[&<>"']/g, (character) => entities[character])
    .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, ' ');
}

import type { Matrix } from '../../geometry/matrix.ts';
import { type Style, styleValue } from './cascade.ts';
import type { GradientPaint, Paint, Swatch } from './displayList.ts';
import { addNote, lengthContext, quoted, type ResolveState, type Scope, styleInPlace } from './resolveState.ts';
import { localId, type PaintText, parseColour, parsePaint } from './svgColours.ts';
import { elementChildren, hrefOf, type SvgElement } from './svgElement.ts';
import { parseLength, parseRatio } from './svgLengths.ts';
import { parseTransform } from './transforms.ts';

export interface PatternPaint {
  readonly kind: 'pattern';
  readonly element: SvgElement;
  readonly alpha: number;
}

/** The paint of a fill or stroke with `alpha` applied, or null when nothing is painted. */
export function resolvePaint(
  state: ResolveState,
  scope: Scope,
  style: Style,
  property: 'fill' | 'stroke',
  alpha: number,
  element: SvgElement,
): Paint | PatternPaint | null {
  const text = parsePaint(styleValue(style, property));
  return text === null ? null : paintOf(state, scope, style, text, alpha, element);
}

function paintOf(
  state: ResolveState,
  scope: Scope,
  style: Style,
  text: PaintText,
  alpha: number,
  element: SvgElement,
): Paint | PatternPaint | null {
  switch (text.kind) {
    case 'none':
      return null;
    case 'context-fill':
      return scope.contextFill;
    case 'context-stroke':
      return scope.contextStroke;
    case 'colour':
      noteGamut(state, text.colour!.outOfGamut, element);
      return flatPaint({ colour: text.colour!, alpha: text.colour!.alpha * alpha, spot: text.spot ?? null });
    case 'current': {
      const colour = currentColour(style);
      return flatPaint({ colour, alpha: colour.alpha * alpha, spot: null });
    }
    case 'server': {
      const server = state.byId.get(text.server ?? '');
      if (server?.name === 'linearGradient' || server?.name === 'radialGradient') {
        return gradientPaint(state, scope, server, alpha);
      }
      if (server?.name === 'pattern') return { kind: 'pattern', element: server, alpha };
      if (server?.name === 'solidcolor' || server?.name === 'solidColor') {
        return flatPaint(swatchOf(state, styleInPlace(state, server), 'solid-color', 'solid-opacity', alpha));
      }
      addNote(state, {
        code: server === undefined ? 'paint-not-found' : 'paint-not-drawn',
        message: `${quoted(element.attributes.get('id') ?? element.localName)} is painted with ${quoted(text.server ?? '')}, which ${server === undefined ? 'is not in the file' : 'cannot be drawn'}.`,
        affects: text.fallback === undefined ? 'plate' : 'nothing',
        leaves: null,
      });
      return text.fallback === undefined ? null : paintOf(state, scope, style, text.fallback, alpha, element);
    }
  }
}

function flatPaint(swatch: Swatch): Paint {
  return { kind: 'flat', swatch };
}

function currentColour(style: Style) {
  return parseColour(styleValue(style, 'color')) ?? parsePaint(styleValue(style, 'color'))?.colour ?? black;
}

const black = { hex: '#000000', alpha: 1, outOfGamut: false };

function swatchOf(state: ResolveState, style: Style, colourName: string, opacityName: string, alpha: number): Swatch {
  const value = styleValue(style, colourName);
  const text = /^currentcolor$/i.test(value) ? { kind: 'colour', colour: currentColour(style) } : parsePaint(value);
  const colour = text?.colour ?? black;
  const opacity = Math.min(1, Math.max(0, parseRatio(styleValue(style, opacityName)) ?? 1));
  const spot = text !== null && 'spot' in text ? (text.spot ?? null) : null;
  if (colour.outOfGamut) noteGamut(state, true, null);
  return { colour, alpha: colour.alpha * opacity * alpha, spot };
}

function noteGamut(state: ResolveState, outOfGamut: boolean, element: SvgElement | null): void {
  if (!outOfGamut) return;
  const id = element?.attributes.get('id');
  addNote(state, {
    code: 'colour-out-of-gamut',
    message: `A colour${id === undefined ? '' : ` of ${quoted(id)}`} lies outside sRGB; the nearest one inside is shown.`,
    affects: 'nothing',
    leaves: null,
  });
}

/** A gradient with what it takes over from others by reference; of no stops: nothing; of one colour: a flat paint. */
function gradientPaint(state: ResolveState, scope: Scope, element: SvgElement, alpha: number): Paint | null {
  const chain = referenceChain(state, element);
  const get = (name: string) => chain.find((one) => one.attributes.has(name))?.attributes.get(name);
  const same = chain.filter((one) => one.name === element.name);
  const own = (name: string) => same.find((one) => one.attributes.has(name))?.attributes.get(name);
  const holder = chain.find((one) => elementChildren(one).some((child) => child.name === 'stop'));
  const stops = holder === undefined ? [] : readStops(state, holder, alpha);
  if (stops.length === 0) return null;
  const first = stops[0].swatch;
  if (
    stops.every(
      ({ swatch }) =>
        swatch.colour.hex === first.colour.hex &&
        swatch.alpha === first.alpha &&
        swatch.spot?.name === first.spot?.name,
    )
  ) {
    return flatPaint({ ...first, spot: first.spot ?? swatchName(chain) });
  }
  const ofBox = get('gradientUnits') !== 'userSpaceOnUse';
  const context = ofBox
    ? { viewportWidth: 1, viewportHeight: 1, fontSize: 16, rootFontSize: 16 }
    : lengthContext(state, styleInPlace(state, element), scope);
  const length = (name: string, axis: 'x' | 'y' | 'other', otherwise: string) => {
    const value = own(name) ?? otherwise;
    // 100 % of a box is 1 for radii too; the diagonal rule belongs to viewports.
    if (ofBox && value.endsWith('%')) return Number.parseFloat(value) / 100;
    return parseLength(value, axis, context) ?? 0;
  };
  const linear = element.name === 'linearGradient';
  const geometry = linear
    ? [length('x1', 'x', '0%'), length('y1', 'y', '0%'), length('x2', 'x', '100%'), length('y2', 'y', '0%')]
    : [
        length('cx', 'x', '50%'),
        length('cy', 'y', '50%'),
        length('r', 'other', '50%'),
        own('fx') === undefined ? length('cx', 'x', '50%') : length('fx', 'x', '50%'),
        own('fy') === undefined ? length('cy', 'y', '50%') : length('fy', 'y', '50%'),
        length('fr', 'other', '0%'),
      ];
  const degenerate = linear ? geometry[0] === geometry[2] && geometry[1] === geometry[3] : geometry[2] === 0;
  if (degenerate) return flatPaint(stops[stops.length - 1].swatch);
  const matrix: Matrix = parseTransform(get('gradientTransform')) ?? [1, 0, 0, 1, 0, 0];
  return {
    kind: 'gradient',
    form: linear ? 'linear' : 'radial',
    geometry,
    matrix,
    ofBox,
    spread: /^(reflect|repeat)$/.test(get('spreadMethod') ?? '') ? get('spreadMethod')! : 'pad',
    stops,
    hard: isHard(stops),
    alpha,
  } satisfies GradientPaint;
}

function readStops(state: ResolveState, holder: SvgElement, alpha: number): GradientPaint['stops'] {
  const parentStyle = styleInPlace(state, holder);
  let last = 0;
  return elementChildren(holder)
    .filter((child) => child.name === 'stop')
    .map((child) => {
      const style = state.cascade.styleOf(child, parentStyle);
      const offset = Math.min(1, Math.max(last, parseRatio(child.attributes.get('offset')) ?? 0));
      last = offset;
      return { offset, swatch: swatchOf(state, style, 'stop-color', 'stop-opacity', alpha) };
    });
}

function isHard(stops: GradientPaint['stops']): boolean {
  return stops.every(({ offset, swatch }, index) => {
    const next = stops[index + 1];
    if (next === undefined || next.offset === offset) return true;
    return next.swatch.colour.hex === swatch.colour.hex && next.swatch.alpha === swatch.alpha;
  });
}

/** The name of a one-colour gradient that a drawing program keeps as a swatch, when somebody gave it one. */
function swatchName(chain: readonly SvgElement[]): Swatch['spot'] {
  const swatch = chain.find(
    (one) => one.attributes.get('inkscape:swatch') === 'solid' || one.attributes.get('other:paint') === 'solid',
  );
  const name = swatch?.attributes.get('inkscape:label') ?? swatch?.attributes.get('id');
  if (name === undefined || /^(swatch|linearGradient|radialGradient|gradient)?[-_]?\d*$/i.test(name)) return null;
  return { name, tintRatio: 1 };
}

/** An element and those it refers to, nearest first; a loop ends it. */
export function referenceChain(state: ResolveState, element: SvgElement): SvgElement[] {
  const chain = [element];
  for (let next = followed(state, element); next !== undefined && !chain.includes(next); next = followed(state, next)) {
    chain.push(next);
  }
  return chain;
}

function followed(state: ResolveState, element: SvgElement): SvgElement | undefined {
  const id = localId(hrefOf(element));
  return id === null ? undefined : state.byId.get(id);
}

/** The same paint let through by a further ratio. */
export function withAlpha(paint: Paint, ratio: number): Paint {
  if (ratio === 1) return paint;
  if (paint.kind === 'flat') return { kind: 'flat', swatch: { ...paint.swatch, alpha: paint.swatch.alpha * ratio } };
  const stops = paint.stops.map((stop) => ({ ...stop, swatch: { ...stop.swatch, alpha: stop.swatch.alpha * ratio } }));
  return { ...paint, stops, alpha: paint.alpha * ratio };
}

export function isSeeThrough(paint: Paint): boolean {
  return paint.kind === 'flat' ? paint.swatch.alpha < 1 : paint.stops.some(({ swatch }) => swatch.alpha < 1);
}

export function isInvisible(paint: Paint): boolean {
  return paint.kind === 'flat' ? paint.swatch.alpha <= 0 : paint.stops.every(({ swatch }) => swatch.alpha <= 0);
}

/** Every colour of a paint. */
export function swatchesOf(paint: Paint): readonly Swatch[] {
  return paint.kind === 'flat' ? [paint.swatch] : paint.stops.map(({ swatch }) => swatch);
}

import { PDFBool, PDFName } from '@cantoo/pdf-lib';
import type { ContentWalk } from './contentWalk.ts';
import { asDict, asName, asNumber, nameText } from './pdfValues.ts';

const separable = new Set([
  'Normal',
  'Compatible',
  'Multiply',
  'Screen',
  'Overlay',
  'Darken',
  'Lighten',
  'ColorDodge',
  'ColorBurn',
  'HardLight',
  'SoftLight',
  'Difference',
  'Exclusion',
]);

/** `gs`: the entries of a graphics state dictionary that change what is drawn. */
export function applyExtGState(walk: ContentWalk, name: string): void {
  const { context, state } = walk;
  const { values } = context;
  const dict = asDict(context.resource(walk.resources, 'ExtGState', name));
  if (!dict) {
    walk.unknown(`a missing graphics state "${name}"`);
    return;
  }
  state.lineWidth = values.number(dict, 'LW') ?? state.lineWidth;
  state.cap = (values.number(dict, 'LC') ?? state.cap) as 0 | 1 | 2;
  state.join = (values.number(dict, 'LJ') ?? state.join) as 0 | 1 | 2;
  state.miterLimit = values.number(dict, 'ML') ?? state.miterLimit;
  const dash = values.listOf(dict, 'D');
  if (dash) {
    const lengths = values.numbers(dash[0]) ?? [];
    state.dash = lengths.some((v) => v > 0) ? lengths : [];
    state.dashPhase = asNumber(dash[1] ?? null) ?? 0;
  }
  const font = values.listOf(dict, 'Font');
  if (font) {
    state.font = asDict(font[0]);
    state.fontSize = asNumber(font[1] ?? null) ?? state.fontSize;
  }
  const stroke = values.get(dict, 'OP');
  const fill = values.get(dict, 'op');
  if (stroke instanceof PDFBool) {
    state.overprintStroke = stroke.asBoolean();
    // Without `op`, `OP` speaks for both (ISO 32000-1, table 58).
    if (!(fill instanceof PDFBool)) state.overprintFill = state.overprintStroke;
  }
  if (fill instanceof PDFBool) state.overprintFill = fill.asBoolean();
  const mode = values.number(dict, 'OPM');
  if (mode !== null) state.overprintMode = mode === 1 ? 1 : 0;
  state.fillAlpha = unit(values.number(dict, 'ca')) ?? state.fillAlpha;
  state.strokeAlpha = unit(values.number(dict, 'CA')) ?? state.strokeAlpha;
  applyBlendMode(walk, dict);
  if (values.flag(dict, 'AIS') === true) {
    context.notes.add('alpha-is-shape', 'plate', 'Opacity that shapes a knockout group is drawn as plain opacity.');
  }
  const mask = values.get(dict, 'SMask');
  if (mask instanceof PDFName) state.softMask = null;
  else if (asDict(mask)) state.softMask = { dict: asDict(mask)!, matrix: state.matrix };
  for (const key of ['TR', 'TR2']) {
    const transfer = values.get(dict, key);
    const plain = transfer instanceof PDFName && ['Identity', 'Default'].includes(nameText(transfer));
    if (transfer && !plain) {
      context.notes.add('transfer-function', 'plate', 'The page carries a transfer curve, which was not applied.');
    }
  }
}

function applyBlendMode(walk: ContentWalk, dict: NonNullable<ReturnType<typeof asDict>>): void {
  const { values, notes } = walk.context;
  const found = values.get(dict, 'BM');
  if (!found) return;
  const names = values.list(found)?.map(asName) ?? [asName(found)];
  const name = names.find((item) => item !== null && separable.has(item)) ?? names[0] ?? 'Normal';
  walk.state.blendMode = name === 'Compatible' ? 'Normal' : name;
  if (!separable.has(name)) {
    walk.state.blendMode = 'Normal';
    notes.add(
      'blend-mode',
      'plate',
      `The blend mode "${name}" has no meaning for single inks; it was drawn as Normal.`,
    );
  } else if (name === 'Difference' || name === 'Exclusion') {
    // These do not keep paper white, so they act as Normal on spot colours (ISO 32000-1, 11.7.4.2).
    walk.state.blendMode = 'Normal';
    notes.add('blend-mode', 'plate', `The blend mode "${name}" does not act on spot colours; it was drawn as Normal.`);
  }
}

function unit(value: number | null): number | null {
  return value === null ? null : Math.min(1, Math.max(0, value));
}

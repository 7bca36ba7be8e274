import type { PDFDict, PDFObject, PDFRawStream } from '@cantoo/pdf-lib';
import { type Matrix, multiplied, transformed } from '../../geometry/matrix.ts';
import { closePath, curveTo, lineTo, moveTo, type PathRange } from '../../geometry/pathStore.ts';
import { clipMet, withClipPath } from './clips.ts';
import { setColour, setColourSpace, setDeviceColour } from './colourOperators.ts';
import { compositeOf, isTranslucent, meetsBackdrop, plainComposite } from './composites.ts';
import { ContentName, type Operand, readContent } from './contentTokens.ts';
import { applyExtGState } from './extGState.ts';
import type { GraphicsState } from './graphicsState.ts';
import { readImage, readInlineImage } from './images.ts';
import { limits, type PageContext } from './pageContext.ts';
import { fillPath, paintImage, paintShading, strokePath } from './paintShapes.ts';
import { asDict, asStream } from './pdfValues.ts';
import type { Composite, SceneItem } from './scene.ts';
import { decodedBytes, isDamaged } from './streamBytes.ts';
import { TextWalk } from './textWalk.ts';

export interface WalkPlace {
  readonly resources: PDFDict | null;
  readonly out: SceneItem[];
  readonly nesting: number;
  readonly layerPath: readonly string[];
  readonly layerOff: boolean;
  /** Colours set inside are ignored: uncoloured tiles and glyphs take the colour they are painted in. */
  readonly uncoloured: boolean;
}

const damagedMessage = 'Some drawing commands of the page are damaged and were skipped.';

/** Walks one content stream with its graphics state and puts what it paints on the scene. */
export class ContentWalk {
  readonly context: PageContext;
  readonly resources: PDFDict | null;
  readonly nesting: number;
  readonly baseMatrix: Matrix;
  out: SceneItem[];
  state: GraphicsState;
  layerPath: readonly string[];
  layerOff: boolean;
  uncoloured: boolean;
  private readonly text: TextWalk;
  private readonly stack: GraphicsState[] = [];
  private readonly markStack: { readonly layerPath: readonly string[]; readonly layerOff: boolean }[] = [];
  private clipRule: 'nonzero' | 'evenodd' | null = null;
  private compatibility = 0;
  private penX = 0;
  private penY = 0;
  private startX = 0;
  private startY = 0;

  constructor(context: PageContext, state: GraphicsState, place: WalkPlace) {
    this.context = context;
    this.state = state;
    this.resources = place.resources;
    this.out = place.out;
    this.nesting = place.nesting;
    this.layerPath = place.layerPath;
    this.layerOff = place.layerOff;
    this.uncoloured = place.uncoloured;
    this.baseMatrix = state.matrix;
    this.text = new TextWalk(this);
  }

  run(bytes: Uint8Array): void {
    this.context.countContent(bytes.length);
    const flaws = readContent(bytes, (operator, operands, data) => this.operate(operator, operands, data));
    this.text.end();
    this.context.store.drop();
    if (flaws > 0) {
      this.context.notes.add('damaged-content', 'plate', damagedMessage);
    }
  }

  composite(alpha: number): Composite {
    const { blendMode, softMask } = this.state;
    return compositeOf(alpha, blendMode, softMask);
  }

  private operate(operator: string, args: Operand[], data: Uint8Array | null): void {
    this.context.countOperator();
    const { state } = this;
    const n = (k: number) => (typeof args[k] === 'number' ? (args[k] as number) : 0);
    switch (operator) {
      case 'm':
        this.moveTo(n(0), n(1));
        return;
      case 'l':
        this.lineTo(n(0), n(1));
        return;
      case 'c':
        this.curveTo(n(0), n(1), n(2), n(3), n(4), n(5));
        return;
      case 'v':
        this.curveTo(this.penX, this.penY, n(0), n(1), n(2), n(3));
        return;
      case 'y':
        this.curveTo(n(0), n(1), n(2), n(3), n(2), n(3));
        return;
      case 're':
        this.rectangle(n(0), n(1), n(2), n(3));
        return;
      case 'h':
        this.close();
        return;
      case 'f':
      case 'F':
        this.paint('nonzero', false);
        return;
      case 'f*':
        this.paint('evenodd', false);
        return;
      case 'S':
        this.paint(null, true);
        return;
      case 's':
        this.close();
        this.paint(null, true);
        return;
      case 'B':
        this.paint('nonzero', true);
        return;
      case 'B*':
        this.paint('evenodd', true);
        return;
      case 'b':
        this.close();
        this.paint('nonzero', true);
        return;
      case 'b*':
        this.close();
        this.paint('evenodd', true);
        return;
      case 'n':
        this.paint(null, false);
        return;
      case 'W':
        this.clipRule = 'nonzero';
        return;
      case 'W*':
        this.clipRule = 'evenodd';
        return;
      case 'q':
        if (this.stack.length < 4096) this.stack.push({ ...state });
        return;
      case 'Q': {
        this.text.breakLine();
        const saved = this.stack.pop();
        if (saved) this.state = saved;
        return;
      }
      case 'cm':
        this.text.breakLine();
        state.matrix = multiplied(state.matrix, [n(0), n(1), n(2), n(3), n(4), n(5)]);
        return;
      case 'w':
        state.lineWidth = Math.abs(n(0));
        return;
      case 'J':
        state.cap = small(n(0));
        return;
      case 'j':
        state.join = small(n(0));
        return;
      case 'M':
        state.miterLimit = n(0);
        return;
      case 'd': {
        const dash = Array.isArray(args[0]) ? args[0].filter((v): v is number => typeof v === 'number' && v >= 0) : [];
        state.dash = dash.some((v) => v > 0) ? dash : [];
        state.dashPhase = n(1);
        return;
      }
      case 'gs':
        applyExtGState(this, nameOf(args[0]));
        return;
      case 'g':
      case 'G':
      case 'rg':
      case 'RG':
      case 'k':
      case 'K':
        setDeviceColour(this, operator, args);
        return;
      case 'cs':
      case 'CS':
        setColourSpace(this, operator === 'CS', nameOf(args[0]));
        return;
      case 'sc':
      case 'scn':
        setColour(this, false, args);
        return;
      case 'SC':
      case 'SCN':
        setColour(this, true, args);
        return;
      case 'sh':
        paintShading(this, nameOf(args[0]));
        return;
      case 'Do':
        this.draw(nameOf(args[0]));
        return;
      case 'BI': {
        const image = readInlineImage(
          this.context,
          args[0] as Map<string, Operand>,
          data ?? new Uint8Array(),
          this.resources,
        );
        if (image) paintImage(this, image);
        else this.unknown('an inline image without a size');
        return;
      }
      case 'BDC':
      case 'BMC':
        this.beginMarked(nameOf(args[0]), args[1]);
        return;
      case 'EMC': {
        const outer = this.markStack.pop();
        if (outer) {
          this.text.breakLine();
          this.layerPath = outer.layerPath;
          this.layerOff = outer.layerOff;
        }
        return;
      }
      case 'd1':
        this.uncoloured = true;
        return;
      case 'BX':
        this.compatibility++;
        return;
      case 'EX':
        this.compatibility--;
        return;
      case 'd0':
      case 'i':
      case 'ri':
      case 'MP':
      case 'DP':
        return;
      default:
        if (this.text.operate(operator, args)) return;
        if (this.compatibility <= 0) this.unknown(`the command "${operator}"`);
    }
  }

  unknown(what: string): void {
    this.context.notes.add('unknown-construct', 'plate', `The page uses ${what}, which this program cannot draw.`);
  }

  private moveTo(x: number, y: number): void {
    const [tx, ty] = transformed(this.state.matrix, x, y);
    this.context.store.add(moveTo, tx, ty);
    this.penX = this.startX = x;
    this.penY = this.startY = y;
  }

  private lineTo(x: number, y: number): void {
    if (this.context.store.isEmpty) {
      this.moveTo(x, y);
      return;
    }
    const [tx, ty] = transformed(this.state.matrix, x, y);
    this.context.store.add(lineTo, tx, ty);
    this.penX = x;
    this.penY = y;
  }

  private curveTo(x1: number, y1: number, x2: number, y2: number, x3: number, y3: number): void {
    if (this.context.store.isEmpty) this.moveTo(x1, y1);
    const [a, b, c, d, e, f] = this.state.matrix;
    this.context.store.add(
      curveTo,
      a * x1 + c * y1 + e,
      b * x1 + d * y1 + f,
      a * x2 + c * y2 + e,
      b * x2 + d * y2 + f,
      a * x3 + c * y3 + e,
      b * x3 + d * y3 + f,
    );
    this.penX = x3;
    this.penY = y3;
  }

  private close(): void {
    if (this.context.store.isEmpty) return;
    this.context.store.add(closePath);
    this.penX = this.startX;
    this.penY = this.startY;
  }

  rectangle(x: number, y: number, width: number, height: number): void {
    this.moveTo(x, y);
    this.lineTo(x + width, y);
    this.lineTo(x + width, y + height);
    this.lineTo(x, y + height);
    this.close();
  }

  private paint(fillRule: 'nonzero' | 'evenodd' | null, stroke: boolean): void {
    const { store } = this.context;
    const { clipRule } = this;
    this.clipRule = null;
    if (store.isEmpty || (!fillRule && !stroke && !clipRule)) {
      store.drop();
      return;
    }
    const path = store.take();
    if (fillRule) fillPath(this, path, fillRule === 'evenodd');
    if (stroke) strokePath(this, path);
    if (clipRule) this.clipTo(path, clipRule === 'evenodd');
  }

  clipTo(path: PathRange, evenOdd: boolean): void {
    this.state.clip = withClipPath(this.context, this.state.clip, path, evenOdd);
  }

  private draw(name: string): void {
    const object = this.context.resource(this.resources, 'XObject', name);
    const stream = asStream(object);
    if (!stream) {
      this.unknown(`a missing picture or form "${name}"`);
      return;
    }
    this.text.breakLine();
    const outer = { layerPath: this.layerPath, layerOff: this.layerOff };
    this.enterLayer(this.context.values.raw(stream.dict, 'OC'));
    const subtype = this.context.values.name(stream.dict, 'Subtype');
    if (subtype === 'Image') {
      const image = readImage(this.context, stream, this.resources);
      if (image) paintImage(this, image);
      else this.unknown(`the picture "${name}" without a size`);
    } else if (subtype === 'Form' || this.context.values.get(stream.dict, 'BBox')) this.drawForm(stream);
    else this.unknown(`an object of the kind "${subtype ?? 'unnamed'}"`);
    this.layerPath = outer.layerPath;
    this.layerOff = outer.layerOff;
  }

  /** Draws a form, `placement` coming between its own matrix and the current one. */
  drawForm(stream: PDFRawStream, placement: Matrix | null = null): void {
    const { context } = this;
    const { values } = context;
    if (this.nesting >= limits.nesting || context.open.has(stream)) {
      context.notes.add(
        'too-deep',
        'plate',
        'Forms are nested too deeply or draw themselves; the innermost were left out.',
      );
      return;
    }
    const bytes = decodedBytes(values, stream);
    if (!bytes) {
      this.unknown('a form whose data cannot be unpacked');
      return;
    }
    if (isDamaged(stream)) context.notes.add('damaged-content', 'plate', damagedMessage);
    context.countForm();
    const group = values.dict(stream.dict, 'Group');
    const isGroup = values.name(group, 'S') === 'Transparency';
    const isolated = values.flag(group, 'I') === true;
    const state: GraphicsState = { ...this.state };
    const own = values.matrixOf(stream.dict, 'Matrix');
    state.matrix = multiplied(state.matrix, placement ? multiplied(placement, own) : own);
    const composite = this.composite(state.fillAlpha);
    const outerGroup = context.group;
    if (isGroup) {
      context.group = {
        alpha: outerGroup.alpha * composite.alpha,
        blendMode: composite.blendMode === 'Normal' ? outerGroup.blendMode : composite.blendMode,
        isPlain: outerGroup.isPlain && composite === plainComposite,
        isIsolated: outerGroup.isIsolated || isolated,
      };
      state.fillAlpha = 1;
      state.strokeAlpha = 1;
      state.blendMode = 'Normal';
      state.softMask = null;
    }
    const inner = new ContentWalk(context, state, {
      resources: asDict(values.get(stream.dict, 'Resources')) ?? this.resources,
      out: isGroup ? [] : this.out,
      nesting: this.nesting + 1,
      layerPath: this.layerPath,
      layerOff: this.layerOff,
      uncoloured: this.uncoloured,
    });
    const box = values.numbersOf(stream.dict, 'BBox');
    if (box && box.length >= 4) {
      inner.rectangle(box[0], box[1], box[2] - box[0], box[3] - box[1]);
      inner.clipTo(context.store.take(), false);
    }
    context.open.add(stream);
    inner.run(bytes);
    context.open.delete(stream);
    context.group = outerGroup;
    if (isGroup) {
      this.addGroup(inner.out, composite, isolated, values.flag(group, 'K') === true);
    }
  }

  /** A group that changes nothing is unrolled; others stay groups. */
  private addGroup(items: SceneItem[], composite: Composite, isolated: boolean, knockout: boolean): void {
    if (items.length === 0) return;
    const plain = composite === plainComposite;
    if (
      plain &&
      !(knockout && items.length > 1 && items.some(isTranslucent)) &&
      !(isolated && items.some(meetsBackdrop))
    ) {
      for (const item of items) this.out.push(item);
      return;
    }
    if (knockout && items.length > 1) {
      this.context.notes.add(
        'knockout-group',
        'plate',
        'A knockout group with transparency is drawn as a common group.',
      );
    }
    const boxMm = clipMet(this.context, this.state.clip);
    this.out.push({ type: 'group', items, isolated, knockout, composite, clip: this.state.clip, boxMm });
  }

  private beginMarked(tag: string, properties: Operand | undefined): void {
    this.markStack.push({ layerPath: this.layerPath, layerOff: this.layerOff });
    if (tag !== 'OC' || !(properties instanceof ContentName)) return;
    this.text.breakLine();
    const list = this.context.values.dict(this.resources, 'Properties');
    this.enterLayer(this.context.values.raw(list, properties.value));
  }

  enterLayer(object: PDFObject | null): void {
    if (!object) return;
    const { layers, notes } = this.context;
    const name = layers.nameOf(object);
    if (name) this.layerPath = [...this.layerPath, name];
    if (!layers.isOn(object) && !this.layerOff) {
      this.layerOff = true;
      notes.add('layer-off', 'nothing', `The layer "${name ?? 'without a name'}" is switched off and was not drawn.`);
    }
  }
}

function small(value: number): 0 | 1 | 2 {
  return value === 1 ? 1 : value === 2 ? 2 : 0;
}

export function nameOf(operand: Operand | undefined): string {
  return operand instanceof ContentName ? operand.value : '';
}

import type { PDFObject } from '@cantoo/pdf-lib';
import { readContent } from './contentTokens.ts';
import { asDict, asStream, type PdfValues } from './pdfValues.ts';
import { decodedBytes } from './streamBytes.ts';

export type NumberFunction = (inputs: readonly number[]) => number[];

const maxNesting = 8;

/** A PDF function (ISO 32000-1, 7.10) as a JavaScript one, or null when it cannot be used. */
export function readFunction(values: PdfValues, object: PDFObject | null, nesting = 0): NumberFunction | null {
  const dict = asDict(object);
  if (!dict || nesting > maxNesting) return null;
  const domain = values.numbersOf(dict, 'Domain') ?? [0, 1];
  const range = values.numbersOf(dict, 'Range');
  const inner = readBody(values, object, nesting, domain, range);
  if (!inner) return null;
  return (inputs) => {
    const clamped = inputs.map((x, k) => clamp(x, domain[2 * k] ?? 0, domain[2 * k + 1] ?? 1));
    const out = inner(clamped);
    return range ? out.slice(0, range.length / 2).map((y, k) => clamp(y, range[2 * k], range[2 * k + 1])) : out;
  };
}

function readBody(
  values: PdfValues,
  object: PDFObject | null,
  nesting: number,
  domain: readonly number[],
  range: readonly number[] | null,
): NumberFunction | null {
  const dict = asDict(object);
  switch (values.number(dict, 'FunctionType')) {
    case 0:
      return range && readSampled(values, object, domain, range);
    case 2: {
      const c0 = values.numbersOf(dict, 'C0') ?? [0];
      const c1 = values.numbersOf(dict, 'C1') ?? [1];
      const exponent = values.number(dict, 'N') ?? 1;
      return ([x]) => c0.map((from, k) => from + x ** exponent * ((c1[k] ?? from) - from));
    }
    case 3: {
      const parts = (values.listOf(dict, 'Functions') ?? []).map((item) => readFunction(values, item, nesting + 1));
      const bounds = values.numbersOf(dict, 'Bounds') ?? [];
      const encode = values.numbersOf(dict, 'Encode') ?? [];
      return ([x]) => {
        let k = 0;
        while (k < bounds.length && x >= bounds[k]) k++;
        const from = k === 0 ? domain[0] : bounds[k - 1];
        const to = k < bounds.length ? bounds[k] : domain[1];
        const e0 = encode[2 * k] ?? 0;
        const e1 = encode[2 * k + 1] ?? 1;
        const inside = to === from ? e0 : e0 + ((x - from) / (to - from)) * (e1 - e0);
        return parts[k]?.([inside]) ?? [];
      };
    }
    case 4:
      return readCalculator(values, object);
    default:
      return null;
  }
}

/** Sampled function, nearest corner samples weighed linearly. */
function readSampled(
  values: PdfValues,
  object: PDFObject | null,
  domain: readonly number[],
  range: readonly number[],
): NumberFunction | null {
  const stream = asStream(object);
  const dict = asDict(object);
  const size = values.numbersOf(dict, 'Size');
  const bits = values.number(dict, 'BitsPerSample');
  const bytes = stream && decodedBytes(values, stream);
  if (!bytes || !size || !bits || size.length > 6) return null;
  const outputs = range.length / 2;
  const encode = values.numbersOf(dict, 'Encode') ?? size.flatMap((n) => [0, n - 1]);
  const decode = values.numbersOf(dict, 'Decode') ?? range;
  const top = 2 ** bits - 1;
  const sampleAt = (index: number, k: number) => {
    const bit = (index * outputs + k) * bits;
    let value = 0;
    for (let b = 0; b < bits; b++) value = value * 2 + ((bytes[(bit + b) >> 3] >> (7 - ((bit + b) & 7))) & 1);
    return value;
  };
  return (inputs) => {
    const places = size.map((n, k) => {
      const span = domain[2 * k + 1] - domain[2 * k] || 1;
      const e = encode[2 * k] + ((inputs[k] - domain[2 * k]) / span) * (encode[2 * k + 1] - encode[2 * k]);
      return clamp(e, 0, n - 1);
    });
    const out = new Array<number>(outputs).fill(0);
    for (let corner = 0; corner < 1 << size.length; corner++) {
      let weight = 1;
      let index = 0;
      let stride = 1;
      for (let k = 0; k < size.length; k++) {
        const floor = Math.min(Math.floor(places[k]), Math.max(0, size[k] - 2));
        const part = places[k] - floor;
        const high = (corner >> k) & 1;
        weight *= high ? part : 1 - part;
        index += Math.min(size[k] - 1, floor + high) * stride;
        stride *= size[k];
      }
      if (weight > 0) for (let k = 0; k < outputs; k++) out[k] += weight * sampleAt(index, k);
    }
    return out.map((v, k) => decode[2 * k] + (v / top) * (decode[2 * k + 1] - decode[2 * k]));
  };
}

type Step = number | string | Step[];

function readCalculator(values: PdfValues, object: PDFObject | null): NumberFunction | null {
  const stream = asStream(object);
  const bytes = stream && decodedBytes(values, stream);
  if (!bytes || bytes.length > 100_000) return null;
  const spaced = new TextDecoder('latin1')
    .decode(bytes)
    .replace(/[{}]/g, (c) => (c === '{' ? ' blockopen ' : ' blockend '));
  const root: Step[] = [];
  const stack: Step[][] = [root];
  readContent(new TextEncoder().encode(spaced), (operator, operands) => {
    const here = stack[stack.length - 1];
    for (const operand of operands) here.push(typeof operand === 'boolean' ? Number(operand) : Number(operand));
    if (operator === 'blockopen' && stack.length < 32) {
      const block: Step[] = [];
      here.push(block);
      stack.push(block);
    } else if (operator === 'blockend') {
      if (stack.length > 1) stack.pop();
    } else here.push(operator);
  });
  const program = Array.isArray(root[0]) ? root[0] : root;
  return (inputs) => {
    const held = [...inputs];
    runSteps(program, held);
    return held;
  };
}

function runSteps(steps: readonly Step[], held: number[]): void {
  for (let at = 0; at < steps.length && held.length < 200; at++) {
    const step = steps[at];
    if (typeof step === 'number') held.push(step);
    else if (Array.isArray(step)) {
      const next = steps[at + 1];
      if (next === 'if') {
        if (held.pop()) runSteps(step, held);
        at += 1;
      } else if (Array.isArray(next) && steps[at + 2] === 'ifelse') {
        runSteps(held.pop() ? step : next, held);
        at += 2;
      }
    } else runOperator(step, held);
  }
}

const unary: Readonly<Record<string, (x: number) => number>> = {
  abs: Math.abs,
  neg: (x) => -x,
  ceiling: Math.ceil,
  floor: Math.floor,
  round: Math.round,
  truncate: Math.trunc,
  cvi: Math.trunc,
  cvr: (x) => x,
  sqrt: (x) => Math.sqrt(Math.max(0, x)),
  sin: (x) => Math.sin((x * Math.PI) / 180),
  cos: (x) => Math.cos((x * Math.PI) / 180),
  ln: Math.log,
  log: Math.log10,
  not: (x) => (x === 0 ? 1 : 0),
};

const binary: Readonly<Record<string, (x: number, y: number) => number>> = {
  add: (x, y) => x + y,
  sub: (x, y) => x - y,
  mul: (x, y) => x * y,
  div: (x, y) => (y === 0 ? 0 : x / y),
  idiv: (x, y) => (y === 0 ? 0 : Math.trunc(x / y)),
  mod: (x, y) => (y === 0 ? 0 : x % y),
  exp: (x, y) => x ** y,
  atan: (x, y) => ((Math.atan2(x, y) * 180) / Math.PI + 360) % 360,
  eq: (x, y) => Number(x === y),
  ne: (x, y) => Number(x !== y),
  gt: (x, y) => Number(x > y),
  ge: (x, y) => Number(x >= y),
  lt: (x, y) => Number(x < y),
  le: (x, y) => Number(x <= y),
  and: (x, y) => x & y,
  or: (x, y) => x | y,
  xor: (x, y) => x ^ y,
  bitshift: (x, y) => (y >= 0 ? x << y : x >> -y),
};

function runOperator(name: string, held: number[]): void {
  const pop = () => held.pop() ?? 0;
  if (unary[name]) held.push(unary[name](pop()));
  else if (binary[name]) {
    const y = pop();
    held.push(binary[name](pop(), y));
  } else if (name === 'pop') pop();
  else if (name === 'dup') held.push(held[held.length - 1] ?? 0);
  else if (name === 'exch') {
    const y = pop();
    const x = pop();
    held.push(y, x);
  } else if (name === 'copy') {
    const count = pop();
    if (count > 0 && count <= held.length) held.push(...held.slice(held.length - count));
  } else if (name === 'index') held.push(held[held.length - 1 - pop()] ?? 0);
  else if (name === 'roll') {
    const by = pop();
    const count = pop();
    if (count <= 0 || count > held.length) return;
    const part = held.splice(held.length - count);
    const shift = ((by % count) + count) % count;
    held.push(...part.slice(count - shift), ...part.slice(0, count - shift));
  }
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

/** How the dots of a halftone are formed; `unknown` is reckoned as round. */
export type DotForm = 'round' | 'euclidean' | 'square' | 'diamond' | 'elliptical' | 'line' | 'unknown';

/** The form of dots as far as a film tells it; of films that only tell the class, the commonest of it. */
export function dotFormOf(told: {
  readonly dotShape: DotForm;
  readonly dotShapeClass: 'line' | 'elongated' | 'symmetric' | 'unknown';
}): DotForm {
  if (told.dotShape !== 'unknown') return told.dotShape;
  if (told.dotShapeClass === 'line') return 'line';
  return told.dotShapeClass === 'elongated' ? 'elliptical' : 'unknown';
}

/** Length over width of a small elliptical dot. Common practice, no source: most makes lie between 1.1 and 1.3. */
export const usualElongation = Math.sqrt(1.5);

/**
 * The upper half of a dot in its cell of side 1: at `across` (−½ … ½ from the dot's middle, along the chain of an
 * elongated dot or along a line) ink reaches from the middle up to `reach`. Every form is symmetric to both axes.
 */
export interface DotOutline {
  /** Half the dot's extent across; ½ when it reaches its neighbours. */
  readonly halfWidth: number;
  reach(across: number): number;
}

const turn = 2 * Math.PI;

/**
 * The outline of a dot of a tone from 0 to 1, by the usual way each form grows: a disc; a square; |u| + |v| (diamond);
 * cos u + cos v (euclidean), the same with one axis stronger (elliptical); a band (line).
 */
export function dotOutline(form: DotForm, tone: number, elongation = usualElongation): DotOutline {
  const key = `${form} ${tone} ${elongation}`;
  const known = outlines.get(key);
  if (known !== undefined) return known;
  const outline = newOutline(form, tone, elongation);
  if (outlines.size >= mostOutlines) outlines.clear();
  outlines.set(key, outline);
  return outline;
}

/** Settings that are tried one after another ask for the same dots again. */
const outlines = new Map<string, DotOutline>();
const mostOutlines = 2000;

function newOutline(form: DotForm, tone: number, elongation: number): DotOutline {
  switch (form) {
    case 'line':
      return { halfWidth: 0.5, reach: () => tone / 2 };
    case 'square': {
      const half = Math.sqrt(tone) / 2;
      return { halfWidth: half, reach: () => half };
    }
    case 'diamond': {
      const size = tone <= 0.5 ? Math.sqrt(tone / 2) : 1 - Math.sqrt((1 - tone) / 2);
      return { halfWidth: Math.min(0.5, size), reach: (across) => clampHalf(size - Math.abs(across)) };
    }
    case 'euclidean':
      return cosineOutline(tone, 1);
    case 'elliptical':
      return cosineOutline(tone, elongation ** 2);
    case 'round':
    case 'unknown':
      return discOutline(tone);
  }
}

/** Free-standing up to π/4; beyond, discs run into each other. */
function discOutline(tone: number): DotOutline {
  const outlineOf = (radius: number): DotOutline => ({
    halfWidth: Math.min(0.5, radius),
    reach: (across) => clampHalf(Math.sqrt(Math.max(0, radius * radius - across * across))),
  });
  if (tone <= Math.PI / 4) return outlineOf(Math.sqrt(tone / Math.PI));
  return grownTo(tone, 0.5, Math.SQRT1_2, outlineOf);
}

/** Ink where cos 2πu + B cos 2πv ≥ c; B over 1 draws the dot out along u. */
function cosineOutline(tone: number, across: number): DotOutline {
  const outlineOf = (level: number): DotOutline => ({
    halfWidth: Math.acos(clampOne(-level - across)) / turn,
    reach: (at) => Math.acos(clampOne((-level - Math.cos(turn * at)) / across)) / turn,
  });
  return grownTo(tone, -1 - across, 1 + across, outlineOf);
}

/** The outline of a family, growing with its measure, whose area is the tone; by false position, halved where it lags. */
function grownTo(tone: number, from: number, to: number, outlineOf: (measure: number) => DotOutline): DotOutline {
  let [low, high, below, above] = [from, to, -tone, 1 - tone];
  for (let step = 0; step < 60; step++) {
    const measure = low + ((high - low) * below) / (below - above);
    const outline = outlineOf(measure);
    const missing = areaOf(outline) - tone;
    if (Math.abs(missing) < areaTolerance) return outline;
    if (missing < 0) [low, below, above] = [measure, missing, above / 2];
    else [high, above, below] = [measure, missing, below / 2];
  }
  return outlineOf((low + high) / 2);
}

const areaTolerance = 1e-7;

/** Share of the cell that is ink. */
export function areaOf(outline: DotOutline): number {
  const { halfWidth } = outline;
  const columns = halfWidth >= 0.5 ? evenColumns : crowdedColumns;
  let sum = 0;
  for (let at = 0; at < columns.length; at += 2) sum += columns[at + 1] * outline.reach(halfWidth * columns[at]);
  return 4 * halfWidth * sum;
}

const columnCount = 128;
/** Middles of the columns and what they stand for, as shares of the half width: even ones, and those that crowd. */
const evenColumns = columnsBy((share) => [share, 1]);
const crowdedColumns = columnsBy((share) => {
  const angle = (share * Math.PI) / 2;
  return [Math.sin(angle), (Math.cos(angle) * Math.PI) / 2];
});

function columnsBy(place: (share: number) => readonly [number, number]): Float64Array {
  const columns = new Float64Array(2 * columnCount);
  for (let index = 0; index < columnCount; index++) {
    const [across, weight] = place((index + 0.5) / columnCount);
    columns[2 * index] = across;
    columns[2 * index + 1] = weight / columnCount;
  }
  return columns;
}

/**
 * Columns over the right half of a dot and the widths they stand for. They crowd towards the edge of a free-standing dot,
 * where its outline falls steeply.
 */
export function eachColumn({ halfWidth }: DotOutline, visit: (across: number, weight: number) => void): void {
  const columns = halfWidth >= 0.5 ? evenColumns : crowdedColumns;
  for (let at = 0; at < columns.length; at += 2) visit(halfWidth * columns[at], halfWidth * columns[at + 1]);
}

function clampHalf(value: number): number {
  return Math.min(0.5, Math.max(0, value));
}

function clampOne(value: number): number {
  return Math.min(1, Math.max(-1, value));
}

import type { HalftoneFacts } from '../findings/finding.ts';
import type { HalftoneRegion } from '../measurements/halftone.ts';
import { type MeshBand, usualBand } from '../mesh/beatBand.ts';
import { dotFormOf } from '../mesh/dotForm.ts';
import { type DotSpectrum, dotSpectrum } from '../mesh/dotSpectrum.ts';
import { tonesInUse } from '../mesh/tonesInUse.ts';
import type { Mesh } from '../ticket/ticket.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { NotApplicable } from './check.ts';

/** A part whose dots stand on a lattice that was read. */
export interface RuledPart extends HalftoneRegion {
  readonly rulingLpi: number;
  readonly angleDeg: number;
}

/** The parts of a plate whose dots carry tone on a lattice; regular artwork carries none, scattered dots have none. */
export function ruledParts({ halftone }: PlateFacts): readonly RuledPart[] {
  return halftone.regions.filter(
    (region): region is RuledPart =>
      (region.kind === 'am' || region.kind === 'ordered') && region.rulingLpi !== null && region.angleDeg !== null,
  );
}

/** What advice on a part hangs on. */
export function factsOf(part: RuledPart): HalftoneFacts {
  const { rulingLpi, angleDeg, toneMinPercent, toneMaxPercent } = part;
  return { rulingLpi, angleDeg, dotForm: dotFormOf(part), tonesPercent: [toneMinPercent ?? 10, toneMaxPercent ?? 90] };
}

/** The mesh of a plate's frame; null when nobody said. */
export function meshOf(ask: Ask, plate: PlateFacts): Mesh | null {
  return ask.ticket.screenFor(plate.ink.name).mesh?.value ?? null;
}

/** Why there is no ruling to judge on a plate; nothing where it has no halftone at all. */
export function* noRuling(plate: PlateFacts): Generator<NotApplicable> {
  if (plate.halftone.regions.length === 0) return;
  const kinds = new Set(plate.halftone.regions.map(({ kind }) => kind));
  if (kinds.has('fm')) yield { why: `The dots of ${plate.ink.name} are scattered and have no ruling.` };
  else if (kinds.has('pattern')) yield { why: `What repeats on ${plate.ink.name} is artwork, not halftone.` };
  else yield { why: `${plate.ink.name} has no halftone whose ruling could be read.` };
}

export function noMesh(plate: PlateFacts): NotApplicable {
  return { why: `No mesh is given for ${plate.ink.name}, so its halftone cannot be judged against one.` };
}

/** How strongly a halftone repeats, in the worst of its tones. */
export function spectrumOf({ dotForm, tonesPercent: [from, to] }: HalftoneFacts): DotSpectrum {
  return dotSpectrum(dotForm, tonesInUse(from, to));
}

/** The ways the mesh may lie, widened by how well ruling and angle are known. */
export function bandOf(mesh: Mesh, part?: RuledPart): MeshBand {
  const rulingPercent = part === undefined ? 0 : (100 * (part.rulingPlusMinusLpi ?? 0)) / part.rulingLpi;
  const [from, to] = usualBand.stretchPercent;
  return {
    stretchPercent: [from - rulingPercent, (mesh.stretchPercent ?? to) + rulingPercent],
    squarenessDeg: (mesh.squarenessDeg ?? usualBand.squarenessDeg) + (part?.anglePlusMinusDeg ?? 0),
  };
}

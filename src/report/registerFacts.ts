import { counted, fixed } from './format.ts';
import { inkNameOf } from './meetings.ts';
import type { ReportJson } from './reportJson.ts';

export type RegisterPlate = NonNullable<ReportJson['registration']>['plates'][number];

export interface RegisterFact {
  readonly term: string;
  readonly value: string;
}

export function hasRegister(report: ReportJson): boolean {
  return report.registration !== null && report.registration.plates.length > 0;
}

/** What the part is about: which film the others are laid on, and what they may be off. */
export function leadOfRegister(report: ReportJson, gap: string): string {
  const { referencePlateId, plates } = report.registration!;
  const count = counted(plates.length, 'other film');
  const press = `${report.ticket.press.registrationMm}${gap}mm`;
  return `${count} laid on the film for ${inkNameOf(report, referencePlateId)}; the press holds ${press}. Shifts are right and down of it, turns counter-clockwise.`;
}

/** Everything measured of how one film lies to the first, in the order it is asked for. */
export function factsOfRegister(report: ReportJson, plate: RegisterPlate, gap: string): RegisterFact[] {
  const mm = (value: number, decimals = 2) => `${fixed(value, decimals)}${gap}mm`;
  const facts: RegisterFact[] = [];
  const add = (term: string, value: string) => facts.push({ term, value });
  const byMarks = plate.marksUsed > 0;
  add(
    'Fitted by',
    byMarks ? `${counted(plate.marksUsed, 'mark')}, ${modelWords[plate.model]}` : 'the outlines of its art',
  );
  add('Shift', `${mm(plate.dxMm)} across, ${mm(plate.dyMm)} down, ±${gap}${mm(plate.plusMinusMm, 3)}`);
  if (plate.rotationDeg !== null) add('Turn', turnWords(plate, gap));
  if (plate.scale !== null) add('Scale', scaleWords(plate, gap));
  if (plate.movedMark !== null) {
    const { xMm, yMm, displacementMm } = plate.movedMark;
    add('Moved mark', `${mm(displacementMm)} off, at ${fixed(xMm, 0)}, ${mm(yMm, 0)}; left out of the fit`);
  } else if (byMarks)
    add('Left by the fit', plate.residualMm === null ? 'too few marks to tell' : `at most ${mm(plate.residualMm)}`);
  if (plate.worstOnArt !== null) {
    const { xMm, yMm, displacementMm } = plate.worstOnArt;
    const after =
      plate.worstAfterFit === null ? '' : `; ${mm(plate.worstAfterFit.displacementMm)} once moved and turned to fit`;
    add('On the art', `at most ${mm(displacementMm)}, at ${fixed(xMm, 0)}, ${mm(yMm, 0)}${after}`);
  }
  if (plate.artFit !== null) add('Art on art', artWords(report, plate.artFit, mm));
  return facts;
}

const modelWords: Readonly<Record<RegisterPlate['model'], string>> = {
  translation: 'a shift',
  similarity: 'shift, turn and one scale',
  affine: 'shift, turn and a scale each way',
};

function turnWords({ rotationDeg, rotationPlusMinusDeg }: RegisterPlate, gap: string): string {
  const bar = rotationPlusMinusDeg === null ? '' : `, ±${gap}${fixed(rotationPlusMinusDeg, 3)}°`;
  return `${fixed(rotationDeg ?? 0, 3)}°${bar}`;
}

function scaleWords(plate: RegisterPlate, gap: string): string {
  const bar = plate.scalePlusMinus === null ? '' : `, ±${gap}${fixed(100 * plate.scalePlusMinus, 3)}${gap}%`;
  return `${scalesOf(plate, gap)}${bar}`;
}

function scalesOf({ scale, scaleX, scaleY, skewDeg }: RegisterPlate, gap: string): string {
  const percent = (value: number) => `${fixed(100 * value, 3)}${gap}%`;
  const isEven = scaleX === null || scaleY === null || Math.abs(scaleX - scaleY) < 5e-6;
  if (isEven) return percent(scale ?? 1);
  const skew = skewDeg !== null && Math.abs(skewDeg) >= 0.002 ? `, skewed ${fixed(skewDeg, 3)}°` : '';
  return `${percent(scaleX)} across, ${percent(scaleY)} down${skew}`;
}

function artWords(
  report: ReportJson,
  { againstPlateId, edges, dxMm, dyMm, plusMinusMm, offMarks }: NonNullable<RegisterPlate['artFit']>,
  mm: (value: number, decimals?: number) => string,
): string {
  const off = offMarks === null ? '' : `; at most ${mm(offMarks.displacementMm)} from where the marks put it`;
  return `${mm(dxMm)} across, ${mm(dyMm)} down of ${inkNameOf(report, againstPlateId)}, ± ${mm(plusMinusMm)}, by ${counted(edges, 'place')} on outlines${off}`;
}

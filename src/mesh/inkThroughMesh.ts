import { mmPerCm, rulingPerCmFromLpi, umToMm } from '../units/lengths.ts';
import type { MeshState, Ruling } from './beat.ts';
import { dotOutline } from './dotForm.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/** Samples along a side of a halftone cell. */
const samples = 24;

/** The ink each cell of a halftone gets through a mesh, over an area. */
export interface InkThroughMesh {
  /** Ink at a place, as a share of its mean, taken between the cells around it. Millimetres, y up, from a corner. */
  at(xMm: number, yMm: number): number;
}

/**
 * Prints a tint through a mesh dot by dot: every cell is sampled finely, dots and openings by the area they have of each
 * sample, and summed. What is left of the halftone is one value a cell, so that nothing is to be seen but what repeats
 * more slowly than its dots. Openings pass ink and threads none; that ink flows is left out.
 */
export function inkThroughMesh(
  ruling: Ruling,
  tonePercent: number,
  mesh: MeshMeasures,
  state: MeshState,
  widthMm: number,
  heightMm: number,
): InkThroughMesh {
  const sideMm = mmPerCm / rulingPerCmFromLpi(ruling.rulingLpi);
  const angle = (ruling.angleDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const toCells = (x: number, y: number) => [(x * cos + y * sin) / sideMm, (y * cos - x * sin) / sideMm] as const;
  const corners = [toCells(0, 0), toCells(widthMm, 0), toCells(0, heightMm), toCells(widthMm, heightMm)];
  const [uFrom, vFrom] = [0, 1].map((axis) => Math.floor(Math.min(...corners.map((corner) => corner[axis]))) - 1);
  const [uTo, vTo] = [0, 1].map((axis) => Math.ceil(Math.max(...corners.map((corner) => corner[axis]))) + 1);
  const columns = uTo - uFrom + 1;
  const dot = inkedSamples(ruling, tonePercent);
  const open = openingsOf(mesh, state, sideMm / samples);
  const cells = new Float64Array(columns * (vTo - vFrom + 1));
  let sum = 0;
  for (let v = vFrom; v <= vTo; v++) {
    for (let u = uFrom; u <= uTo; u++) {
      let ink = 0;
      for (const { across, along, share } of dot) {
        const [uMm, vMm] = [(u + across) * sideMm, (v + along) * sideMm];
        ink += share * open(uMm * cos - vMm * sin, uMm * sin + vMm * cos);
      }
      cells[(v - vFrom) * columns + u - uFrom] = ink;
      sum += ink;
    }
  }
  const mean = sum / cells.length;
  return {
    at: (xMm, yMm) => {
      const [u, v] = toCells(xMm, yMm);
      const [column, row] = [Math.floor(u) - uFrom, Math.floor(v) - vFrom];
      const [right, up] = [u - Math.floor(u), v - Math.floor(v)];
      const corner = row * columns + column;
      const below = cells[corner] * (1 - right) + cells[corner + 1] * right;
      const above = cells[corner + columns] * (1 - right) + cells[corner + columns + 1] * right;
      return (below * (1 - up) + above * up) / mean;
    },
  };
}

interface InkedSample {
  /** From the middle of the cell, in cells. */
  readonly across: number;
  readonly along: number;
  /** How much of the sample is dot. */
  readonly share: number;
}

function inkedSamples({ dotForm }: Ruling, tonePercent: number): readonly InkedSample[] {
  const outline = dotOutline(dotForm, tonePercent / 100);
  const found: InkedSample[] = [];
  for (let column = 0; column < samples; column++) {
    const across = (column + 0.5) / samples - 0.5;
    const reach = Math.abs(across) <= outline.halfWidth ? outline.reach(across) : 0;
    for (let row = 0; row < samples; row++) {
      const along = (row + 0.5) / samples - 0.5;
      const share = Math.min(1, Math.max(0, (reach - Math.abs(along)) * samples + 0.5));
      if (reach > 0 && share > 0) found.push({ across, along, share });
    }
  }
  return found;
}

/** How much of a square sample of a side in mm is open, by where its middle lies. */
function openingsOf(
  mesh: MeshMeasures,
  { stretchPercent, turnDeg }: MeshState,
  sampleMm: number,
): (xMm: number, yMm: number) => number {
  const pitchMm = (mmPerCm / mesh.threadsPerCm) * (1 + stretchPercent / 100);
  const openMm = Math.min(pitchMm, umToMm(mesh.openingUm) * (1 + stretchPercent / 100));
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const openUpTo = (mm: number) => {
    const pitches = Math.floor(mm / pitchMm);
    return pitches * openMm + Math.min(openMm, mm - pitches * pitchMm);
  };
  const openShare = (mm: number) => (openUpTo(mm + sampleMm / 2) - openUpTo(mm - sampleMm / 2)) / sampleMm;
  return (xMm, yMm) => openShare(xMm * cos + yMm * sin) * openShare(yMm * cos - xMm * sin);
}

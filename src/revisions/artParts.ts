import type { CommonGrid } from '../plateArchive/compareTiles.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import type { Component } from '../raster/component.ts';
import { visitComponents } from '../raster/components.ts';

/** A connected part of a plate, or a hole in one. mm of the film; moments about its own centre, mm². */
export interface ArtPart {
  readonly isHole: boolean;
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly areaMm2: number;
  readonly centreXMm: number;
  readonly centreYMm: number;
  readonly momentXX: number;
  readonly momentYY: number;
  readonly momentXY: number;
}

/** More parts than this are the dots of a halftone: the largest stand for all. */
const mostParts = 3_000;
/** A part must be this many pixels across to be known by its shape. */
const leastPx = 4;

/** The parts of a plate, and its holes, in whose box something changed; largest first. */
export function partsIn(plane: BitPlane, grid: CommonGrid, isChanged: (component: Component) => boolean): ArtPart[] {
  const parts: ArtPart[] = [];
  for (const inverted of [false, true]) {
    visitComponents(plane, { inverted, connectivity: inverted ? 4 : 8 }, (component) => {
      const { left, top, right, bottom } = component;
      if (right - left < leastPx || bottom - top < leastPx) return;
      const touchesEdge = left === 0 || top === 0 || right === plane.widthPx || bottom === plane.heightPx;
      if ((inverted && touchesEdge) || !isChanged(component)) return;
      parts.push(partOf(component, grid, inverted));
    });
  }
  return parts.sort((a, b) => b.areaMm2 - a.areaMm2).slice(0, mostParts);
}

function partOf(component: Component, { pitchXMm, pitchYMm }: CommonGrid, isHole: boolean): ArtPart {
  const { areaPx, left, top, right, bottom, firstColumn } = component;
  const meanColumn = component.sumColumn / areaPx;
  const meanRow = component.sumRow / areaPx;
  return {
    isHole,
    leftMm: left * pitchXMm,
    topMm: top * pitchYMm,
    widthMm: (right - left) * pitchXMm,
    heightMm: (bottom - top) * pitchYMm,
    areaMm2: areaPx * pitchXMm * pitchYMm,
    centreXMm: (firstColumn + meanColumn + 0.5) * pitchXMm,
    centreYMm: (top + meanRow + 0.5) * pitchYMm,
    momentXX: (component.sumColumnSquared / areaPx - meanColumn ** 2) * pitchXMm ** 2,
    momentYY: (component.sumRowSquared / areaPx - meanRow ** 2) * pitchYMm ** 2,
    momentXY: (component.sumProduct / areaPx - meanColumn * meanRow) * pitchXMm * pitchYMm,
  };
}

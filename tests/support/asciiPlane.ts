import { type BitPlane, bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';

/** A plane drawn as text: '#' is opaque, anything else clear. Rows are lines; blank lines at both ends are dropped. */
export function planeFromText(text: string): BitPlane {
  const lines = text.replace(/^\s*\n|\n\s*$/g, '').split('\n');
  const indent = Math.min(...lines.map((line) => line.search(/\S|$/)));
  const rows = lines.map((line) => line.slice(indent));
  const plane = createBitPlane(Math.max(...rows.map((line) => line.length)), rows.length);
  rows.forEach((line, row) => {
    for (let column = 0; column < line.length; column++) if (line[column] === '#') setBit(plane, column, row);
  });
  return plane;
}

export function textFromPlane(plane: BitPlane): string {
  return Array.from({ length: plane.heightPx }, (_, row) =>
    Array.from({ length: plane.widthPx }, (_, column) => (bitAt(plane, column, row) ? '#' : '.')).join(''),
  ).join('\n');
}

/** A plane from rows of booleans or 0/1. */
export function planeFromRows(rows: readonly (readonly (boolean | number)[])[]): BitPlane {
  const plane = createBitPlane(rows[0].length, rows.length);
  rows.forEach((line, row) => {
    line.forEach((value, column) => {
      if (value) setBit(plane, column, row);
    });
  });
  return plane;
}

/** A mesh as sold, by its metric count and thread. */
export interface MeshRow {
  readonly threadsPerCm: number;
  /** The rounded count an inch it is sold by, the usual one first; it is up to 1.4 (above 420: 2.8) off 2.54 times the metric count. */
  readonly labelsPerInch: readonly number[];
  readonly threadUm: number;
  /** `medium` is the thread meant when a count is named alone. */
  readonly thread: 'thin' | 'medium' | 'thick';
  readonly weave: 'plain' | 'twill';
  /** Where the pair of count and thread was seen. */
  readonly provenance: string;
}

const trainingPage = 'read: a printing company’s training page on mesh geometry';
const makersPage = 'read: a mesh maker’s specification page';
const magazineMesh = 'read: Screen Printing magazine, “Mesh Matters”, June 2009';
const memory = 'from memory: common pair, not read';

function row(
  threadsPerCm: number,
  labelsPerInch: readonly number[],
  threadUm: number,
  provenance: string,
  thread: MeshRow['thread'] = 'medium',
  weave: MeshRow['weave'] = 'plain',
): MeshRow {
  return { threadsPerCm, labelsPerInch, threadUm, thread, weave, provenance };
}

/** Reference meshes, coarse to fine. Everything else about them is arithmetic, see `meshGeometry.ts`. */
export const meshTable: readonly MeshRow[] = [
  row(10, [25], 260, trainingPage),
  row(15, [38], 200, memory),
  row(21, [54], 150, memory),
  row(24, [61], 140, trainingPage),
  row(29, [74], 120, memory),
  row(32, [81], 100, memory),
  row(34, [86], 100, trainingPage),
  row(39, [100], 55, 'read: “How Much Ink Do You Need?”, Screen Printing magazine, April 2000'),
  row(43, [110], 80, 'read: an article on stencil thickness gauges'),
  row(43, [110], 71, 'read: a contract printer’s article on mesh', 'thin'),
  row(48, [123], 70, memory),
  row(49, [125], 55, trainingPage),
  row(54, [137], 64, memory),
  row(55, [140], 48, memory),
  row(62, [157, 156, 158], 64, trainingPage),
  row(71, [180], 48, memory, 'thin'),
  row(71, [180], 55, memory),
  row(77, [195, 196], 48, memory, 'thin'),
  row(77, [195, 196], 55, memory),
  row(90, [230, 225], 40, makersPage, 'thin'),
  row(90, [230, 225], 48, makersPage),
  row(90, [230, 225], 54, makersPage, 'thick'),
  row(100, [255], 40, memory),
  row(110, [280], 34, memory),
  row(120, [305], 31, trainingPage, 'thin'),
  row(120, [305], 34, trainingPage),
  row(120, [305], 40, magazineMesh, 'thick'),
  row(124, [315], 30, 'read: “In Search of the Right Mesh”, Printwear magazine'),
  row(130, [330], 34, memory),
  row(140, [355], 31, memory, 'thin'),
  row(140, [355], 34, trainingPage),
  row(150, [380], 27, memory, 'thin'),
  row(150, [380], 31, 'read: a weaver’s guide to halftone printing'),
  row(165, [420], 27, memory, 'thin'),
  row(165, [420], 31, memory),
  row(180, [460], 27, memory),
  row(190, [480], 31, 'read: AGH University of Krakow, technical data on investigated fabrics', 'medium', 'twill'),
];

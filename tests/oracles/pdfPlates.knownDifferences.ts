/** Where a film may differ from Ghostscript's plates by more than the test allows, by how much, and why that is right. */
export interface KnownDifference {
  readonly areaPoints?: number;
  readonly areaShare?: number;
  readonly pixels?: number;
  readonly why: string;
}

export const knownDifferences: Readonly<Record<string, KnownDifference>> = {};

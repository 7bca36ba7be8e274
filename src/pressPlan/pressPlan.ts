/** A proposed press plan. Every figure is computed from the job or said to be common practice. */
export interface PressPlan {
  readonly order: readonly {
    readonly station: number;
    readonly what: 'ink' | 'flash' | 'coolDown';
    readonly inkId: string | null;
    readonly inkName: string | null;
    readonly role: string | null;
    readonly mesh: string | null;
    readonly coveragePercent: number | null;
    readonly why: string;
  }[];
  readonly stationsNeeded: number;
  readonly stationsOwned: number;
  readonly notes: readonly string[];
  /** Usual cautions; shown on every plan. */
  readonly cautions: readonly string[];
}

/** GET /api/jobs/:job/links. */
export interface LinksFacts {
  /** Where customers reach the page of a link; null: this server shows them none. */
  readonly address: string | null;
  /** Days a link is valid unless said. */
  readonly validDays: number;
  /** Latest first. */
  readonly links: readonly LinkFacts[];
}

export interface LinkFacts {
  readonly id: number;
  readonly madeAt: number;
  readonly madeBy: string;
  readonly expiresAt: number;
  readonly revoked: { readonly at: number; readonly by: string } | null;
  readonly isOpen: boolean;
}

/** POST /api/jobs/:job/links; DELETE /api/jobs/:job/links/:link closes one and answers `LinksFacts`. */
export interface NewLink {
  readonly days?: number;
  readonly language?: string;
  readonly units?: 'mm' | 'inch';
  readonly by?: string;
}

export interface NewLinkFacts extends LinksFacts {
  /** Told this once. */
  readonly url: string;
}

export const mostLinkDays = 365;

/** What a customer may send, each file. */
export const mostCustomerMegabytes = 1000;
/** Files of one link that are on their way at once. */
export const mostCustomerFiles = 20;

/** GET /c/:token/state: the page is loaded again when this is another than it was made with. */
export interface CustomerState {
  readonly mark: string;
}

/** POST /c/:token/files: uploads of this link that are all there. */
export interface CustomerFiles {
  readonly uploads: readonly string[];
  readonly name: string;
}

/** What came of it; alreadyKnown: these are the films that were there. */
export interface CustomerFilesTaken {
  readonly kind: 'newRevision' | 'alreadyKnown';
}

/** Only the code is told; the page has words for it. */
export interface CustomerRefused {
  readonly error: { readonly code: string };
}

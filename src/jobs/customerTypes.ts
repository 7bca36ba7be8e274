/** Plain data of what customers may do through their links. Times are milliseconds since 1970 by the clock of the database. */

/** What one who holds the token of a link may see one job by, send new files for it, and answer. */
export interface CustomerLink {
  readonly id: number;
  readonly jobId: number;
  /** Lower-case hexadecimal. The token itself is kept nowhere. */
  readonly tokenSha256: string;
  readonly madeAt: number;
  readonly madeBy: string;
  readonly expiresAt: number;
  readonly revoked: { readonly at: number; readonly by: string } | null;
  /** Neither expired nor revoked when this was read. */
  readonly isOpen: boolean;
  /** As the page greets its reader: "de"; null: as the browser asks for it. */
  readonly language: string | null;
  /** Null: as the shop has set it. */
  readonly units: 'mm' | 'inch' | null;
}

export interface NewCustomerLink extends Pick<CustomerLink, 'jobId' | 'tokenSha256' | 'language' | 'units'> {
  readonly by: string;
  readonly validForMs: number;
}

/** approved: print it as shown. declined: do not, as the remark says. */
export type CustomerAnswerKind = 'approved' | 'declined';

export interface NewCustomerAnswer {
  readonly linkId: number;
  readonly revisionId: number;
  /** Of the revision that was seen; the answer holds for these films and this ticket, and for no others. */
  readonly contentKey: string;
  readonly kind: CustomerAnswerKind;
  /** As it was typed. */
  readonly name: string;
  readonly remark: string;
}

export interface CustomerAnswer extends NewCustomerAnswer {
  readonly id: number;
  readonly at: number;
}

/**
 * sameAsBefore: that is how the revision stands already, nothing was written. closed: the link is not open. superseded:
 * a later revision is there, or the films are not those that were seen. notChecked: there is nothing to answer yet.
 */
export type Answered =
  | { readonly outcome: 'taken'; readonly answer: CustomerAnswer }
  | { readonly outcome: 'sameAsBefore' | 'closed' | 'superseded' | 'notChecked' };

const customerMark = ' (customer)';

/** How a customer is called beside what people of the shop did. */
export function asCustomer(name: string): string {
  return `${name}${customerMark}`;
}

export function isCustomer(who: string): boolean {
  return who.endsWith(customerMark);
}

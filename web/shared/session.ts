/** look: sees everything. decide: brings jobs, sets their tickets and decides. administer: changes the shop as well. */
export type Role = 'look' | 'decide' | 'administer';

/** GET /api/session; POST signs in with `SignIn` and answers the same; DELETE signs out. */
export interface SessionFacts {
  readonly signedIn: boolean;
  /** Null on a server that asks for no account: whoever sits there says a name with each decision. */
  readonly name: string | null;
  readonly role: Role | null;
  /** With accounts, decisions bear the name of the account, whatever `by` says. */
  readonly asksForAccount: boolean;
}

export interface SignIn {
  readonly name: string;
  readonly passphrase: string;
}

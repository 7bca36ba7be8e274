/** Papers for the customer and for the shop: the note, the proof, the work list. */

/** What the shop's own words, or the customer's wishes, change of a note; what is left out comes from the shop's file. */
export interface NoteAsk {
  /** en, es or de. */
  readonly language?: string;
  readonly units?: 'mm' | 'inch';
  /** How the customer is called. */
  readonly customer?: string;
  /** Answer by this day, 2030-06-24. */
  readonly answerBy?: string;
  /** In place of the greeting of the shop's file. */
  readonly greeting?: string;
  /** A sentence before the thanks. */
  readonly extra?: string;
  /** none: it does not tell what became of the revision before. */
  readonly since?: 'none';
}

/** Longest texts of a note that come from the page. */
export const longestGreeting = 200;
export const longestExtra = 600;

/** The note as plain data, as every rendering says it. */
export interface NoteText {
  readonly language: string;
  readonly subject: string;
  readonly greeting: string;
  readonly opening: readonly string[];
  readonly settled: { readonly heading: string; readonly lines: readonly string[] } | null;
  readonly sections: readonly { readonly heading: string; readonly items: readonly NotePoint[] }[];
  readonly closing: readonly string[];
  readonly signature: readonly string[];
}

export interface NotePoint {
  readonly number: number;
  readonly defect: string;
  readonly since: string;
  readonly effect: string;
  readonly request: string;
  readonly offer: string;
  readonly places: string;
}

export interface NotePictureFacts {
  readonly number: number;
  readonly alt: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** A data address. */
  readonly src: string;
}

/** A point of the report and who settles it: the customer is asked, it always is the shop's, or somebody decided so. */
export interface NoteChoiceFacts {
  readonly by: 'customer' | 'shop' | 'ourselves' | 'accepted';
  readonly said: string;
  readonly findings: readonly {
    readonly checkId: string;
    readonly code: string;
    readonly inkNames: readonly string[];
  }[];
}

/** A mail about a revision. givenUp: nobody knows whether it went out, or the server refused it for good. */
export interface MailFacts {
  readonly mailId: number;
  readonly to: string;
  readonly subject: string;
  readonly messageId: string;
  readonly state: 'waiting' | 'sent' | 'givenUp';
  /** What the server, or the program, said of it last. */
  readonly reason: string | null;
  readonly addedAt: number;
  readonly sentAt: number | null;
}

/** GET …/note?language=de&… */
export interface NoteFacts {
  readonly note: NoteText;
  readonly text: string;
  readonly pictures: readonly NotePictureFacts[];
  readonly choices: readonly NoteChoiceFacts[];
  /** What holds where nothing is asked for. */
  readonly usual: {
    readonly language: string;
    readonly units: 'mm' | 'inch';
    readonly customer: string;
    readonly answerBy: string | null;
  };
  /** Whether the note can be sent from here. test: mails are laid into a folder. notSet: the shop's file names no server. */
  readonly mail: {
    readonly state: 'ready' | 'test' | 'notSet' | 'wrong';
    readonly from: string | null;
    readonly detail: string | null;
  };
  /** Latest first. */
  readonly mails: readonly MailFacts[];
  /** Whether there is a revision before, of which the note may tell what became. */
  readonly hasBefore: boolean;
  /** Whether there is a proof: every film has a known size. */
  readonly hasProof: boolean;
}

/** POST …/note. Answers `MailFacts[]` of the revision. */
export interface SendNote extends NoteAsk {
  readonly to: string;
  /** Who sends it; left out where one signs in with an account. */
  readonly by?: string;
  /** How many times the same note was given to the post for the same address before, and is sent once more. */
  readonly again?: number;
}

import type { Content } from "./content.ts";

/** What is handed to a way. */
export interface Letter {
  /** `Idempotency-Key`. */
  readonly message: string;
  /** The JSON that is sent, the same bytes each time. */
  readonly json: string;
  readonly content: Content;
}

/** What came of one try; `detail` is one line for people. */
export type Tried =
  | { readonly outcome: "delivered"; readonly detail?: string }
  /** `afterMs`: the receiver asks for so much patience. */
  | { readonly outcome: "failed"; readonly detail: string; readonly afterMs?: number }
  /** Trying again would be in vain until somebody changes something. */
  | { readonly outcome: "refused"; readonly detail: string };

/** Tries to hand a letter over once, within the way's timeout. Rejects where the system refuses it a process. */
export type Send = (letter: Letter) => Promise<Tried>;

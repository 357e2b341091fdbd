import type { Priority } from "../terms/alarms.ts";

/** A stretch of the day in minutes after local midnight; `to` below `from` passes midnight. */
export interface Hours {
  readonly from: number;
  readonly to: number;
}

/** Where a secret is kept: never in the fleet file itself. */
export type SecretSource = { readonly file: string } | { readonly env: string };

export interface CommandWay {
  readonly kind: "command";
  readonly name: string;
  readonly timeoutMs: number;
  /** The program, by its absolute path or its name on the PATH, and its arguments. */
  readonly command: readonly string[];
}

export interface WebhookWay {
  readonly kind: "webhook";
  readonly name: string;
  readonly timeoutMs: number;
  readonly url: string;
  readonly secret: SecretSource;
}

export interface MailWay {
  readonly kind: "mail";
  readonly name: string;
  readonly timeoutMs: number;
  readonly host: string;
  readonly port: number;
  /** TLS from the first byte; begun by STARTTLS, and without it nothing is sent; or none, on this computer only. */
  readonly protection: "tls" | "starttls" | "none";
  readonly from: string;
  readonly to: readonly string[];
  readonly login?: { readonly user: string; readonly password: SecretSource };
}

/** A way to reach somebody. */
export type Way = CommandWay | WebhookWay | MailWay;

/** Who is on call when; what is left out holds at all times. */
export interface Duty {
  readonly way: string;
  /** Days of the week on which its hours begin, 0 for Sunday. */
  readonly days?: readonly number[];
  readonly hours?: readonly Hours[];
  /** First and last day, both included, as year × 10 000 + month × 100 + day. */
  readonly fromDay?: number;
  readonly untilDay?: number;
}

export interface Rota {
  readonly name: string;
  /** The first that fits is on call. */
  readonly duties: readonly Duty[];
}

/** What is sent to whom. */
export interface SendLine {
  /** The same as long as its `to` stays: what was sent by it is known by this name. */
  readonly name: string;
  /** Ways and rotas. */
  readonly to: readonly string[];
  readonly atLeast: Priority;
  /** Undefined: all. */
  readonly sites?: readonly string[];
  readonly hours?: readonly Hours[];
  readonly escalateAfterMs: number;
  /** Ways and rotas that are told in turn while nobody acknowledges. */
  readonly escalateTo: readonly (readonly string[])[];
}

/** How people are told of alarms. */
export interface Notify {
  readonly ways: readonly Way[];
  readonly rotas: readonly Rota[];
  readonly send: readonly SendLine[];
  /** When alarms below high wait. */
  readonly quietHours: readonly Hours[];
  readonly groupWithinMs: number;
  readonly tellReturn: boolean;
}

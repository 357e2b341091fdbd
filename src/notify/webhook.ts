import { createHmac } from "node:crypto";
import type { WebhookWay } from "../fleet/notify.ts";
import { visible } from "../terms/text.ts";
import { hour, second } from "../terms/time.ts";
import { secretFrom } from "./secret.ts";
import type { Send, Tried } from "./sending.ts";

/** Standard Webhooks 1.0.0, "Signature scheme": at least 24 bytes. */
const leastSecretBytes = 24;

/**
 * Posts the message's JSON, signed by Standard Webhooks 1.0.0 (`webhook-id`, `webhook-timestamp`,
 * `webhook-signature`: HMAC-SHA-256), with its id as `Idempotency-Key` too
 * (draft-ietf-httpapi-idempotency-key-header). 2xx is delivered; redirects are not followed.
 */
export function webhookSend({ url, secret, timeoutMs }: WebhookWay, now: () => number = Date.now): Send {
  return async ({ message, json }) => {
    const found = secretFrom(secret);
    if (found.problem !== undefined) return { outcome: "refused", detail: found.problem };
    const key = keyOf(found.value);
    if (key.length < leastSecretBytes) {
      const detail = `its secret is shorter than ${leastSecretBytes} bytes; make one with: openssl rand -base64 32`;
      return { outcome: "refused", detail };
    }
    const timestamp = Math.floor(now() / second);
    try {
      const response = await fetch(url, {
        method: "POST",
        body: json,
        redirect: "manual",
        signal: AbortSignal.timeout(timeoutMs),
        headers: {
          "content-type": "application/json",
          "user-agent": "tarnwatch",
          // A String of Structured Fields (RFC 9651, 3.3.3); an id has nothing in it to escape.
          "idempotency-key": `"${message}"`,
          "webhook-id": message,
          "webhook-timestamp": String(timestamp),
          "webhook-signature": signature(key, message, timestamp, json),
        },
      });
      await response.body?.cancel();
      return answered(response, now());
    } catch (error) {
      return { outcome: "failed", detail: unreached(error as Error, timeoutMs) };
    }
  };
}

/** The key of a secret: base64 behind `whsec_`, else the text itself. */
export function keyOf(secret: string): Buffer {
  const prefix = "whsec_";
  return secret.startsWith(prefix) ? Buffer.from(secret.slice(prefix.length), "base64") : Buffer.from(secret);
}

/** `webhook-signature` of Standard Webhooks 1.0.0 over `{id}.{timestamp}.{body}`. */
export function signature(key: Buffer, message: string, timestamp: number, body: string): string {
  return `v1,${createHmac("sha256", key).update(`${message}.${timestamp}.${body}`).digest("base64")}`;
}

/** Statuses below 500 by which a receiver asks to come again (RFC 9110, 15.5.9; RFC 8470, 5.2; RFC 6585, 4). */
const comeAgain: readonly number[] = [408, 425, 429];

function answered({ ok, status, statusText, headers }: Response, nowMs: number): Tried {
  if (ok) return { outcome: "delivered" };
  const answer = visible(`it answered ${status} ${statusText}`.trim());
  if (status < 400) {
    const to = headers.get("location");
    return {
      outcome: "refused",
      detail: `${answer}: it has moved${to === null ? "" : ` to ${visible(to)}`}; write that address`,
    };
  }
  if (status < 500 && !comeAgain.includes(status)) return { outcome: "refused", detail: answer };
  const afterMs = retryAfter(headers.get("retry-after"), nowMs);
  return { outcome: "failed", detail: answer, ...(afterMs !== undefined && { afterMs }) };
}

/** `Retry-After` (RFC 9110, 10.2.3), seconds or a date, as a wait in ms of at most an hour. */
export function retryAfter(header: string | null, nowMs: number): number | undefined {
  if (header === null) return undefined;
  const wait = /^\d+$/.test(header) ? Number(header) * second : Date.parse(header) - nowMs;
  return Number.isNaN(wait) ? undefined : Math.min(Math.max(0, wait), hour);
}

function unreached(error: Error, timeoutMs: number): string {
  if (error.name === "TimeoutError") return `it did not answer within ${timeoutMs / second} s`;
  const { code, message } = (error.cause ?? error) as NodeJS.ErrnoException;
  return `it cannot be reached: ${visible(code ?? message)}`;
}

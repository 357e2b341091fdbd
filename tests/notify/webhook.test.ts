import { createHmac } from "node:crypto";
import { describe, expect, it } from "vitest";
import type { WebhookWay } from "../../src/fleet/notify.ts";
import { keyOf, retryAfter, signature, webhookSend } from "../../src/notify/webhook.ts";
import { letterOf, receiver, secretFile } from "./receivers.ts";

const nowMs = Date.UTC(2026, 4, 4, 8, 12, 20);

function wayTo(url: string, over: Partial<WebhookWay> = {}): WebhookWay {
  return { kind: "webhook", name: "desk", url, timeoutMs: 5000, secret: { file: secretFile() }, ...over };
}

describe("a webhook", () => {
  it("is signed as the Standard Webhooks libraries' own check value is", () => {
    // github.com/standard-webhooks/standard-webhooks, tests of the reference libraries: secret, id, time, body, signature.
    const key = keyOf("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw");
    expect(signature(key, "msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, '{"test": 2432232314}')).toBe(
      "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
    );
  });

  it("carries its id, its time and a signature over the very bytes of its body", async () => {
    const { url, requests } = await receiver((response) => response.writeHead(204).end());
    const letter = letterOf({ site: "Étang de l'Est" });
    expect(await webhookSend(wayTo(url), () => nowMs)(letter)).toEqual({ outcome: "delivered" });
    const [{ headers, body } = { headers: {}, body: "" }] = requests;
    expect(body).toBe(letter.json);
    expect(headers).toMatchObject({
      "content-type": "application/json",
      "idempotency-key": `"${letter.message}"`,
      "webhook-id": letter.message,
      "webhook-timestamp": "1777882340",
    });
    const key = Buffer.from("MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSwMfKQ9r8GKYo=", "base64");
    const mac = createHmac("sha256", key).update(`${letter.message}.1777882340.${body}`).digest("base64");
    expect(headers["webhook-signature"]).toBe(`v1,${mac}`);
  });

  it.each([
    [404, "refused"],
    [401, "refused"],
    [308, "refused"],
    [408, "failed"],
    [429, "failed"],
    [500, "failed"],
    [503, "failed"],
  ] as const)("that is answered by %i is %s", async (status, outcome) => {
    const { url } = await receiver((response) =>
      response.writeHead(status, { location: "https://example.org/" }).end(),
    );
    const tried = await webhookSend(wayTo(url))(letterOf());
    expect(tried).toMatchObject({ outcome, detail: expect.stringContaining(`it answered ${status}`) });
  });

  it("that hangs is given up at its timeout", async () => {
    const { url } = await receiver(() => {});
    expect(await webhookSend(wayTo(url, { timeoutMs: 200 }))(letterOf())).toEqual({
      outcome: "failed",
      detail: "it did not answer within 0.2 s",
    });
  });

  it("waits as long as the receiver asks, up to an hour (RFC 9110, 10.2.3)", () => {
    expect(retryAfter("120", nowMs)).toBe(120_000);
    expect(retryAfter("Mon, 04 May 2026 08:13:20 GMT", nowMs)).toBe(60_000);
    expect(retryAfter("99999", nowMs)).toBe(3_600_000);
    expect(retryAfter("soon", nowMs)).toBeUndefined();
    expect(retryAfter(null, nowMs)).toBeUndefined();
  });

  it("with no receiver tells why", async () => {
    const tried = await webhookSend(wayTo("http://127.0.0.1:9/alarms"))(letterOf());
    expect(tried).toMatchObject({
      outcome: "failed",
      detail: expect.stringMatching(/^it cannot be reached: /),
    });
  });

  it("without a sound secret is not sent, and the secret is not told", async () => {
    const { url, requests } = await receiver((response) => response.end());
    const short = await webhookSend(wayTo(url, { secret: { file: secretFile("hush-hush") } }))(letterOf());
    expect(short).toEqual({
      outcome: "refused",
      detail: "its secret is shorter than 24 bytes; make one with: openssl rand -base64 32",
    });
    const gone = await webhookSend(wayTo(url, { secret: { file: "/nowhere/secret" } }))(letterOf());
    expect(gone).toMatchObject({
      detail: expect.stringMatching(/^\/nowhere\/secret: there is no such file; /),
    });
    const unset = await webhookSend(wayTo(url, { secret: { env: "TARNWATCH_NOT_SET" } }))(letterOf());
    expect(unset).toMatchObject({ detail: "the environment variable TARNWATCH_NOT_SET is empty; set it" });
    expect(requests).toEqual([]);
  });
});

import { describe, expect, it } from "vitest";
import type { MailWay } from "../../src/fleet/notify.ts";
import { mailSend } from "../../src/notify/mail.ts";
import { letterOf, mailbox, secretFile } from "./receivers.ts";

function wayTo(port: number, over: Partial<MailWay> = {}): MailWay {
  return {
    kind: "mail",
    name: "office",
    timeoutMs: 5000,
    host: "127.0.0.1",
    port,
    protection: "none",
    from: "tarnwatch@example.org",
    to: ["office@example.org", "on-call@example.org"],
    ...over,
  };
}

describe("a mail", () => {
  it("is plain text with the same Message-ID at every try", async () => {
    const { port, mails, commands } = await mailbox();
    const send = mailSend(wayTo(port));
    expect(await send(letterOf())).toEqual({ outcome: "delivered" });
    await send(letterOf());
    const ids = mails.map((mail) => /^Message-ID: (.+)\r$/m.exec(mail)?.[1]);
    expect(ids[0]).toMatch(/^<[0-9a-f]{32}@example\.org>$/);
    expect(ids[1]).toBe(ids[0]);
    expect(mails[0]).toMatch(/^Idempotency-Key: LM-01\/7@20260504T081220Z\r$/m);
    expect(mails[0]).toMatch(/^Auto-Submitted: auto-generated\r$/m);
    expect(mails[0]).toMatch(/^Subject: HIGH: Heron Bend LM-01 lost-prime since 03:11/m);
    expect(mails[0]).toMatch(
      /\r\n\r\nHIGH: Heron Bend LM-01 lost-prime since 03:11\.\r\n\r\nWhy: it lost its prime\./,
    );
    expect(commands.filter((command) => command.startsWith("RCPT")).slice(0, 2)).toEqual([
      "RCPT TO:<office@example.org>",
      "RCPT TO:<on-call@example.org>",
    ]);
  });

  it("takes no header from a name", async () => {
    const { port, mails } = await mailbox();
    await mailSend(wayTo(port))(letterOf({ subject: "HIGH: Heron\r\nBcc: all@example.org\r\n\r\nBend" }));
    expect(mails[0]).not.toMatch(/^Bcc:/m);
  });

  it("logs in by a password from a file", async () => {
    const { port, mails, commands } = await mailbox();
    const login = { user: "tarnwatch", password: { file: secretFile("hush") } };
    expect(await mailSend(wayTo(port, { login }))(letterOf())).toEqual({ outcome: "delivered" });
    expect(commands).toContain(`AUTH PLAIN ${Buffer.from("\0tarnwatch\0hush").toString("base64")}`);
    expect(mails).toHaveLength(1);
  });

  it.each([
    ["451 4.3.0 try later", "failed"],
    ["554 5.7.1 not from you", "refused"],
  ] as const)("answered by %s is %s (RFC 5321, 4.2.1)", async (reply, outcome) => {
    const { port } = await mailbox({ MAIL: reply });
    expect(await mailSend(wayTo(port))(letterOf())).toMatchObject({
      outcome,
      detail: expect.stringContaining(reply),
    });
  });

  it("is not sent in the open where the server begins no TLS", async () => {
    const { port, mails } = await mailbox();
    const tried = await mailSend(wayTo(port, { protection: "starttls" }))(letterOf());
    expect(tried.outcome).not.toBe("delivered");
    expect(mails).toEqual([]);
  });

  it("to a server that says nothing is given up at its timeout", async () => {
    const { port } = await mailbox({ EHLO: "250-mail.example.org" });
    expect(await mailSend(wayTo(port, { timeoutMs: 300 }))(letterOf())).toMatchObject({ outcome: "failed" });
  });
});

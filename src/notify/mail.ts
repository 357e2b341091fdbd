import { createHash } from "node:crypto";
import { createTransport } from "nodemailer";
import type { MailWay } from "../fleet/notify.ts";
import { visible } from "../terms/text.ts";
import { second } from "../terms/time.ts";
import { secretFrom } from "./secret.ts";
import type { Send, Tried } from "./sending.ts";

/** Sends the message as plain text by SMTP; its `Message-ID` is the same at every try, so that a mailbox can tell. */
export function mailSend(way: MailWay): Send {
  const { host, port, protection, from, to, login, timeoutMs } = way;
  return async ({ message, content }) => {
    const password = login && secretFrom(login.password);
    if (password?.problem !== undefined) return { outcome: "refused", detail: password.problem };
    const transport = createTransport({
      host,
      port,
      secure: protection === "tls",
      requireTLS: protection === "starttls",
      ignoreTLS: protection === "none",
      ...(login && { auth: { user: login.user, pass: password?.value ?? "" } }),
      connectionTimeout: timeoutMs,
      greetingTimeout: timeoutMs,
      socketTimeout: timeoutMs,
      disableFileAccess: true,
      disableUrlAccess: true,
    });
    const hash = createHash("sha256").update(`${message}\n${way.name}`).digest("hex").slice(0, 32);
    const sending = transport
      .sendMail({
        from,
        to: [...to],
        subject: content.subject,
        text: content.text,
        messageId: `<${hash}@${from.slice(from.lastIndexOf("@") + 1)}>`,
        priority: content.priority === "high" ? "high" : "normal",
        headers: { "Idempotency-Key": message, "Auto-Submitted": "auto-generated" },
      })
      .then(({ rejected }): Tried => {
        if (rejected.length === 0) return { outcome: "delivered" };
        return {
          outcome: "delivered",
          detail: visible(`the server does not take mail for ${rejected.join(", ")}`),
        };
      })
      .catch((error: MailError): Tried => failure(error));
    // Each step has its timeout; a server that trickles could stretch their sum without end.
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<Tried>((resolve) => {
      const detail = `the mail server had not taken it after ${timeoutMs / second} s`;
      timer = setTimeout(() => resolve({ outcome: "failed", detail }), timeoutMs);
    });
    try {
      return await Promise.race([sending, late]);
    } finally {
      clearTimeout(timer);
      transport.close();
    }
  };
}

interface MailError extends Error {
  readonly code?: string;
  /** Of the server's reply (RFC 5321, 4.2.1): 4yz may pass, 5yz will not. */
  readonly responseCode?: number;
}

function failure({ code, responseCode = 0, message }: MailError): Tried {
  const detail = visible(message).slice(0, 300);
  const isFinal = responseCode >= 500 || (code === "EAUTH" && responseCode === 0);
  return { outcome: isFinal ? "refused" : "failed", detail };
}

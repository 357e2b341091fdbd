import { z } from "zod";
import { minute, second } from "../terms/time.ts";
import { takes } from "./json-schema.ts";
import { isMapping } from "./merge.ts";
import type { MailWay, SecretSource, Way } from "./notify.ts";
import { duration, quoted } from "./quantity.ts";
import { handOn, mapping, text, understood } from "./schema.ts";

/** A way, but for its name. */
type MakeWay = (name: string) => Way;

const timeout = duration({ min: second, max: 10 * minute }).default(30 * second);
const path = text("a file, relative to this one");
const variable = understood(
  (name) => (/^[A-Za-z_]\w*$/.test(name) ? name : undefined),
  "the name of an environment variable",
  "TARNWATCH_SECRET",
);

const onThisComputer = /^(?:localhost|127(?:\.\d+){3}|\[::1\])$/;

function url(written: string): URL | undefined {
  return URL.canParse(written) ? new URL(written) : undefined;
}

const webhookUrl = takes(
  z.unknown().transform((value, context): string => {
    const parsed = typeof value === "string" ? url(value.trim()) : undefined;
    const wrong = (message: string) => {
      context.addIssue({ code: "custom", message, input: value });
      return z.NEVER;
    };
    if (parsed === undefined || !/^https?:$/.test(parsed.protocol)) {
      return wrong(`${quoted(value)} is not an address of the web; write https://example.org/alarms`);
    }
    if (parsed.protocol === "http:" && !onThisComputer.test(parsed.hostname)) {
      return wrong(
        `${quoted(value)} would be sent in the open; write https://, http:// is for localhost only`,
      );
    }
    if (parsed.username !== "" || parsed.password !== "") {
      return wrong("a name or a password does not belong in the fleet file; leave it out of the address");
    }
    return parsed.href;
  }),
  () => z.string(),
);

interface Server extends Pick<MailWay, "host" | "port" | "protection"> {
  /** As it was written: for messages. */
  readonly written: string;
}

const mailServer = takes(
  z.unknown().transform((value, context): Server => {
    const written = typeof value === "string" ? value.trim() : "";
    const parsed = url(written);
    const wrong = (message: string) => {
      context.addIssue({ code: "custom", message, input: value });
      return z.NEVER;
    };
    if (parsed === undefined || !/^smtps?:$/.test(parsed.protocol) || parsed.hostname === "") {
      return wrong(
        `${quoted(value)} is not a mail server; write smtps://mail.example.org, or smtp://mail.example.org:587 for one that begins TLS by STARTTLS`,
      );
    }
    if (parsed.username !== "" || parsed.password !== "") {
      return wrong("a password does not belong in the fleet file; write user: and password_file: beside it");
    }
    const tls = parsed.protocol === "smtps:";
    const host = parsed.hostname.replace(/^\[(.*)\]$/, "$1");
    return {
      written,
      host,
      port: parsed.port === "" ? (tls ? 465 : 587) : Number(parsed.port),
      protection: tls ? "tls" : onThisComputer.test(parsed.hostname) ? "none" : "starttls",
    };
  }),
  () => z.string(),
);

const mailAddress = understood(
  (address) => (/^[^\s@<>,;"]+@[^\s@<>,;"]+$/.test(address) ? address : undefined),
  "a mail address",
  "on-call@example.org",
);
const mailAddresses: z.ZodType<readonly string[]> = takes(
  z
    .unknown()
    .transform((value, context) =>
      handOn(z.array(mailAddress).min(1), Array.isArray(value) ? value : [value], context),
    ),
  () => z.union([z.string(), z.array(z.string()).min(1)]),
);

/** One secret from its two keys; the problem where it has neither or both. */
function secretOf(
  file: string | undefined,
  env: string | undefined,
  key: string,
  context: z.RefinementCtx,
): SecretSource {
  if (file !== undefined && env === undefined) return { file };
  if (env !== undefined && file === undefined) return { env };
  const wrong = file === undefined ? "is missing" : "and the file are both written";
  context.addIssue({
    code: "custom",
    path: file === undefined ? [] : [`${key}_env`],
    message: `its ${key} ${wrong}; write either ${key}_file or ${key}_env`,
    input: file,
  });
  return z.NEVER;
}

const commandWay = mapping({
  command: z.array(text("the program, then its arguments")).min(1),
  timeout,
}).transform(
  ({ command, timeout: timeoutMs }): MakeWay =>
    (name) => ({ kind: "command", name, timeoutMs, command }),
);

const webhookWay = mapping({
  webhook: webhookUrl,
  timeout,
  secret_file: path.optional(),
  secret_env: variable.optional(),
}).transform(({ webhook, timeout: timeoutMs, secret_file, secret_env }, context): MakeWay => {
  const secret = secretOf(secret_file, secret_env, "secret", context);
  return (name) => ({ kind: "webhook", name, timeoutMs, url: webhook, secret });
});

const mailWay = mapping({
  mail: mailServer,
  timeout,
  from: mailAddress,
  to: mailAddresses,
  user: text("the name to log in with").optional(),
  password_file: path.optional(),
  password_env: variable.optional(),
}).transform((written, context): MakeWay => {
  const { host, port, protection } = written.mail;
  const { user, password_file, password_env } = written;
  if (user === undefined && (password_file ?? password_env) !== undefined) {
    const message = "a password needs a name to log in with; write user: beside it";
    context.addIssue({ code: "custom", message, input: written.mail.written });
    return z.NEVER;
  }
  const login =
    user === undefined
      ? undefined
      : { user, password: secretOf(password_file, password_env, "password", context) };
  const { from, to, timeout: timeoutMs } = written;
  return (name) => ({
    kind: "mail",
    name,
    timeoutMs,
    host,
    port,
    protection,
    from,
    to,
    ...(login && { login }),
  });
});

const kinds = { command: commandWay, webhook: webhookWay, mail: mailWay } as const;

/** A way to reach somebody: by the one of `command`, `webhook` and `mail` that it has. */
export const way: z.ZodType<MakeWay> = takes(
  z.unknown().transform((value, context): MakeWay => {
    const has = isMapping(value) ? Object.entries(kinds).filter(([kind]) => Object.hasOwn(value, kind)) : [];
    const [only, second] = has;
    if (only !== undefined && second === undefined)
      return handOn(only[1] as z.ZodType<MakeWay>, value, context);
    const wrong =
      only === undefined ? "has no command, webhook or mail" : `has both ${only[0]} and ${second?.[0]}`;
    const message = `this way ${wrong}; write one, such as command: [send-sms, "+15550100"]`;
    context.addIssue({ code: "custom", message, input: value });
    return z.NEVER;
  }),
  () => z.union([commandWay, webhookWay, mailWay]),
);

/** The same way with its files' and its program's places made absolute by `absolute`. */
export function withPlaces(way: Way, absolute: (path: string) => string): Way {
  const placed = (secret: SecretSource) => ("file" in secret ? { file: absolute(secret.file) } : secret);
  switch (way.kind) {
    case "command": {
      const [program = "", ...args] = way.command;
      // A bare name is looked for on the PATH.
      return { ...way, command: [/[\\/]/.test(program) ? absolute(program) : program, ...args] };
    }
    case "webhook":
      return { ...way, secret: placed(way.secret) };
    case "mail":
      return way.login === undefined
        ? way
        : { ...way, login: { ...way.login, password: placed(way.login.password) } };
  }
}

import type { Notify, Way } from "../fleet/notify.ts";
import { commandSend } from "./command.ts";
import { mailSend } from "./mail.ts";
import type { Send } from "./sending.ts";
import { webhookSend } from "./webhook.ts";

/** How each way sends, in the order of the fleet file. */
export function sendsOf({
  ways,
}: Pick<Notify, "ways">): readonly { readonly way: Way; readonly send: Send }[] {
  const secrets = ways.flatMap((way) => {
    const source =
      way.kind === "webhook" ? way.secret : way.kind === "mail" ? way.login?.password : undefined;
    return source !== undefined && "env" in source ? [source.env] : [];
  });
  return ways.map((way) => ({ way, send: sendOf(way, secrets) }));
}

function sendOf(way: Way, secrets: readonly string[]): Send {
  switch (way.kind) {
    case "command":
      return commandSend(way, secrets);
    case "webhook":
      return webhookSend(way);
    case "mail":
      return mailSend(way);
  }
}

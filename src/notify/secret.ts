import { readFileSync } from "node:fs";
import type { SecretSource } from "../fleet/notify.ts";
import type { Outcome } from "../store/outcome.ts";
import { visible } from "../terms/text.ts";

/** A secret from where it is kept, without the line's end; the problem names the place and never the secret. */
export function secretFrom(source: SecretSource): Outcome<string> {
  if ("env" in source) {
    const value = process.env[source.env] ?? "";
    return value === "" ? { problem: `the environment variable ${source.env} is empty; set it` } : { value };
  }
  try {
    const value = readFileSync(source.file, "utf8").trim();
    return value === ""
      ? { problem: `${visible(source.file)}: it is empty; write the secret in it` }
      : { value };
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const why =
      code === "ENOENT" ? "there is no such file" : code === "EACCES" ? "no permission to read it" : message;
    return {
      problem: `${visible(source.file)}: ${visible(why)}; write the secret in it, readable by this user alone`,
    };
  }
}

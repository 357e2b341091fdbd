import { InvalidArgumentError } from "commander";

export function positive(text: string): number {
  if (!(Number(text) > 0 && Number.isFinite(Number(text))))
    throw new InvalidArgumentError("write a number above 0");
  return Number(text);
}

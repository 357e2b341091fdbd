import { fileURLToPath } from "node:url";
import { writeSamples } from "./samples.ts";

writeSamples(fileURLToPath(new URL("../../sample-logs", import.meta.url)));

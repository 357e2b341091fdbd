import { afterAll } from "vitest";
import { removeFolders } from "./program.ts";

afterAll(removeFolders);

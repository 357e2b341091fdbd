/** `npm run bench -- NAME`: runs one benchmark; each prints a table and one JSON line. */
const [name = "", ...args] = process.argv.slice(2);
const benchmarks: Readonly<Record<string, () => Promise<{ bench(args: readonly string[]): Promise<void> }>>> =
  {
    ingest: () => import("./ingest.ts"),
    follow: () => import("./follow.ts"),
    rules: () => import("./rules.ts"),
    screen: () => import("./screen.ts"),
  };
const load = benchmarks[name];
if (load === undefined) {
  process.stderr.write(`bench: name one of ${Object.keys(benchmarks).join(", ")}\n`);
  process.exitCode = 2;
} else {
  await (await load()).bench(args);
}

export {};

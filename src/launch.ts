#!/usr/bin/env node
// Imports nothing, so that it loads on any Node and can say what is wrong.
const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
if (major < 22 || (major === 22 && minor < 22)) {
  process.stderr.write(
    `tarnwatch needs Node 22.22 or newer and this is ${process.versions.node}; ` +
      "in a checkout, start it with `npm run -s tarnwatch -- COMMAND`, which brings its own\n",
  );
  process.exitCode = 2;
} else {
  process.env.NODE_ENV ??= "production";
  const { main } = await import("./cli.ts");
  process.exitCode = await main(process.argv.slice(2));
}

// Reads a fleet on two threads of which one fails: a column whose unit is none of its channel.
const { readOnce } = await import(new URL("../../dist/collector/read-once.js", import.meta.url).href);
const fleet = JSON.parse(process.argv[2]);
await readOnce(fleet, { services: [], threads: 2 }).catch((error) =>
  process.stdout.write(`failed: ${error.message}`),
);

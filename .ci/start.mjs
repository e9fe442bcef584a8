// What `npm start` starts: the rehearsal, or with --config the real thing.
const args = process.argv.slice(2);
const isReal = args.some((arg) => arg === "--config" || arg.startsWith("--config="));
process.argv.splice(2, args.length, isReal ? "keep" : "rehearse", ...args);
await import("../dist/daemon/main.js");

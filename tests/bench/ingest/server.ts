import { preferSmallHeap } from "../../../daemon/keep/small-heap.js";

// As `daemon/main.ts` does, before the libraries are loaded; the others are plain Node.
if (process.argv[2] === "keep") preferSmallHeap();
await import("./served.js");

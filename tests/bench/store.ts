import { pathToFileURL } from "node:url";
import { benchBytes } from "./store/bytes-written.js";
import { benchSeason } from "./store/season-query.js";

/** Measure what the store writes, and how fast a season is read; prints tables with ratios. */
export function benchStore(): void {
  benchBytes();
  benchSeason();
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) benchStore();

import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import type { Label } from "./label.js";

/** A winter lived through: its readings that arrived, in time order, and what was wrong when. */
export type Winter = Readonly<{
  /** With the seed it names the winter. */
  fridgeName: string;
  seed: number;
  /** Whether the probes speak of humidity. */
  humidity: boolean;
  site: Site;
  startMs: number;
  endMs: number;
  readings: readonly Reading[];
  labels: readonly Label[];
}>;

/** Midnight before the first night; our choice. */
export const WINTER_START_MS = Date.UTC(2025, 9, 20);

import { createHash } from "node:crypto";
import { MARK } from "./mark.js";
import { STYLE } from "./style.js";
import { walkInTime } from "./walk-in-time.js";

/** A file that pages link to. Its address changes with it, so that it can be kept for ever. */
export type StaticFile = Readonly<{ address: string; type: string; text: string }>;

function fileOf(name: string, extension: string, type: string, text: string): StaticFile {
  const stamp = createHash("sha256").update(text).digest("base64url").slice(0, 12);
  return { address: `/${name}-${stamp}.${extension}`, type: `${type}; charset=utf-8`, text };
}

export const STYLE_FILE = fileOf("almanac", "css", "text/css", STYLE);
export const SCRIPT_FILE = fileOf(
  "walk",
  "js",
  "text/javascript",
  `"use strict";\n(${walkInTime.toString()})();\n`,
);
export const MARK_FILE = fileOf("cocoon", "svg", "image/svg+xml", MARK);

/** All of them. They come from memory: nothing of a request ever names a file on the disk. */
export const STATIC_FILES: readonly StaticFile[] = [STYLE_FILE, SCRIPT_FILE, MARK_FILE];

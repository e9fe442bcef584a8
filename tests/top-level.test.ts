import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const FOLDERS = ["shared", "rules", "sensors", "daemon", "tests", "deploy"];
const FILES = [
  "README.md",
  "DEVELOPERS.md",
  "package.json",
  "package-lock.json",
  "tsconfig.json",
  "LICENSE",
];
/** Made by running, and named in .gitignore. */
const MADE = ["node_modules", "dist", "state", "drowse.toml"];

test("the top level holds the house's folders and papers and nothing else", () => {
  const found = readdirSync(ROOT).filter((name) => !name.startsWith(".") && !MADE.includes(name));
  expect(found.filter((name) => ![...FOLDERS, ...FILES].includes(name))).toEqual([]);
});

import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import {
  codeSpan,
  DEVELOPERS,
  EVERY_PAPER,
  matches,
  README,
  ROOT,
  read,
  rowsOf,
  sorted,
  under,
} from "./papers.js";

const ROOMS = new Map(
  rowsOf(under(DEVELOPERS, "### Rooms")).map(([room, , files]) => [
    codeSpan(room!)!.replace(/\/$/, ""),
    files!.split(", "),
  ]),
);

const sourcesIn = (folder: string) =>
  readdirSync(join(ROOT, folder))
    .filter((name) => name.endsWith(".ts"))
    .map((name) => name.replace(/\.ts$/, ""));

function foldersIn(folder: string): string[] {
  const entries = readdirSync(join(ROOT, folder), { withFileTypes: true });
  const inner = entries.filter((entry) => entry.isDirectory());
  return [folder, ...inner.flatMap((entry) => foldersIn(join(folder, entry.name)))];
}

test("the map shows each room of the house, and none that is gone", () => {
  const folders = ["shared", "rules", "sensors", "daemon"].flatMap(foldersIn);
  const real = folders.filter((folder) => sourcesIn(folder).length > 0);
  expect(sorted(ROOMS.keys())).toEqual(sorted(real));
});

test.each([...ROOMS])("the map lists the files of %s", (room, files) => {
  expect(sorted(files)).toEqual(sorted(sourcesIn(room)));
});

test.each(EVERY_PAPER)("%s names no file of ours that is gone", (_name, text) => {
  const ours = /`((?:shared|rules|sensors|daemon|tests|deploy|\.ci)\/[\w./-]*)(?: [^`]*)?`/g;
  for (const path of matches(text, ours)) expect(existsSync(join(ROOT, path)), path).toBe(true);
});

/** The name under which a heading can be linked to. */
const anchorOf = (heading: string) =>
  heading
    .toLowerCase()
    .replace(/[^\w\- ]/g, "")
    .replaceAll(" ", "-");

test.each(EVERY_PAPER)("every link in %s leads somewhere", (name, text) => {
  const prose = text.replace(/```[\s\S]*?```/g, "");
  const targets = [...matches(prose, /\]\(([^)]+)\)/g), ...matches(prose, /<img src="([^"]+)"/g)];
  for (const target of targets.filter((t) => !/^https?:/.test(t))) {
    const [path, anchor] = target.split("#");
    const file = path === "" ? name : join(dirname(name), path!);
    expect(existsSync(join(ROOT, file)), target).toBe(true);
    if (anchor === undefined) continue;
    const anchors = matches(read(file), /^#+ (.+)$/gm).map(anchorOf);
    expect(anchors, target).toContain(anchor);
  }
});

test("every picture is a small PNG that the owner's page shows, with words for it", () => {
  const folder = join(ROOT, "deploy/pictures");
  const pictures = readdirSync(folder);
  expect(pictures.length).toBeGreaterThan(0);
  for (const picture of pictures) {
    const file = join(folder, picture);
    // The signature of a PNG: W3C, Portable Network Graphics, section 5.2.
    expect(readFileSync(file).subarray(0, 8).toString("hex")).toBe("89504e470d0a1a0a");
    expect(statSync(file).size, picture).toBeLessThan(120_000);
    expect(README).toMatch(
      new RegExp(`<img src="deploy/pictures/${picture}"[^>]* alt="[^"]{20,}"`),
    );
  }
});

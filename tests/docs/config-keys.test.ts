import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import type { Fault } from "../../daemon/config/fault.js";
import { checkSections, type Sections } from "../../daemon/config/sections.js";
import { loadConfig } from "../../daemon/config.js";
import {
  codeSpan,
  DEVELOPERS,
  EVERY_PAPER,
  matches,
  README,
  rowsOf,
  sorted,
  under,
} from "./papers.js";

type Table = keyof Sections;

/** A config of what is needed and no more; it fails to compile when a table comes or goes. */
const LEAST: Record<Table, unknown> = {
  site: { name: "Quillmere", timezone: "Europe/London", keepers: ["keeper@example.org"] },
  broker: {},
  sensor: [{ user: "shed-board" }],
  heartbeat: { url: "https://example.org/beat", secret_file: "heartbeat-secret" },
  store: {},
  mail: { host: "smtp.example.org", from: "drowse@example.org" },
  digest: {},
  page: {},
  year: {},
  release: {},
  species: [{ id: "garden-bee" }],
  chamber: [{ id: "shed" }],
  probe: [{ id: "shed-air", place: "air", topic: "quillmere/air", payload: "number" }],
};
const TABLES = Object.keys(LEAST) as Table[];
const isList = (table: Table) => Array.isArray(LEAST[table]);
const headingOf = (table: Table) => (isList(table) ? `[[${table}]]` : `[${table}]`);
const rowsFor = (table: Table) => rowsOf(under(DEVELOPERS, `### ${headingOf(table)}`));
const first = (value: unknown) => [value].flat()[0] as Record<string, unknown>;

/** The keys of a table, as a keeper is told them who wrote something else in its place. */
function keysOf(table: Table): string[] {
  const faults: Fault[] = [];
  checkSections({ ...LEAST, [table]: isList(table) ? [1] : 1 }, faults);
  const told = /^expected a table with (.*)$/.exec(faults[0]?.expected ?? "")?.[1];
  if (told === undefined) throw new Error(`no keys told of ${table}`);
  return told.split(", ");
}

/** The value that a key has in the least config without being written there. */
function defaultOf(table: Table, key: string): unknown {
  const value = first(checkSections(LEAST, [])?.[table])[key];
  const isSpan = typeof value === "object" && value !== null && "low" in value && "high" in value;
  return isSpan ? [value.low, value.high] : value;
}

test.each(TABLES)("[%s] has exactly its keys in the papers", (table) => {
  const written = rowsFor(table).map(([key]) => codeSpan(key!) ?? "");
  expect(sorted(written)).toEqual(sorted(keysOf(table)));
});

test.each(TABLES)("the papers say which keys of [%s] are needed", (table) => {
  for (const [cell, written] of rowsFor(table)) {
    const key = codeSpan(cell!)!;
    const { [key]: given, ...others } = first(LEAST[table]);
    const without = { ...LEAST, [table]: isList(table) ? [others] : others };
    const isNeeded = given !== undefined && checkSections(without, []) === null;
    expect(written === "needed", `${table}.${key} is needed`).toBe(isNeeded);
  }
});

test.each(TABLES)("the papers give the true defaults of [%s]", (table) => {
  for (const [cell, written] of rowsFor(table).filter(([, word]) => word !== "needed")) {
    const key = codeSpan(cell!)!;
    const shown = codeSpan(written!);
    const value = shown === undefined ? undefined : JSON.parse(shown);
    expect(value, `${table}.${key}`).toEqual(defaultOf(table, key));
  }
});

test("the headings under the keys are the config's tables", () => {
  const headings = matches(under(DEVELOPERS, "## Config keys"), /^### (\[.*\])$/gm);
  expect(sorted(headings)).toEqual(sorted(TABLES.map(headingOf)));
});

test.each(EVERY_PAPER)("%s names no table that is gone", (_name, text) => {
  for (const name of matches(text, /`\[+([a-z_]+)\]+`/g)) expect(TABLES).toContain(name);
});

test("the pieces of the owner's page make a config that loads", () => {
  const pieces = matches(README, /```toml\n([\s\S]*?)```/g);
  expect(pieces.length).toBeGreaterThan(1);
  const folder = mkdtempSync(join(tmpdir(), "drowse-docs-"));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  const file = join(folder, "drowse.toml");
  writeFileSync(file, pieces.join("\n"));
  const { site, mail } = loadConfig(file, { readSecrets: false });
  expect(site.probes.length).toBeGreaterThan(0);
  expect(mail).not.toBeNull();
});

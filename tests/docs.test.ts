import { Command } from "commander";
import { expect, test } from "vitest";
import { defineCommands } from "../daemon/cli/commands.js";
import { REJECT_REASONS } from "../sensors/reject-reason.js";
import { ERROR_CODES } from "../shared/errors.js";
import {
  codeIn,
  codeSpan,
  DEVELOPERS,
  EVERY_PAPER,
  matches,
  README,
  read,
  rowsOf,
  sorted,
  under,
} from "./docs/papers.js";

const program = new Command("drowse");
defineCommands(program);
/** A command and those under it, each by the words that call it. */
const withInner = (command: Command, before = ""): (readonly [string, readonly string[]])[] => {
  const name = `${before}${command.name()}`;
  const own = [name, command.options.map((option) => option.long ?? "")] as const;
  const inner = command.commands.flatMap((one) => withInner(one, `${name} `));
  return inner.length === 0 ? [own] : inner;
};
/** The options of each command by its name, without those that all have. */
const COMMANDS = new Map(program.commands.flatMap((command) => withInner(command)));
/** The words that a keeper finds in `drowse --help`. */
const FIRST_WORDS = program.commands.map((command) => command.name());

test("each command is in the developers' table with all its options, and no other", () => {
  const written = rowsOf(under(DEVELOPERS, "## Commands")).map(
    ([command, options]) =>
      [codeSpan(command!), sorted(matches(options!, /`(--[a-z-]+)`/g))] as const,
  );
  const real = [...COMMANDS].map(([name, flags]) => [`drowse ${name}`, sorted(flags)]);
  expect(written.map(String).sort()).toEqual(real.map(String).sort());
});

test("the owner's page names each command", () => {
  for (const name of FIRST_WORDS) expect(README).toContain(`\`drowse ${name}`);
});

test.each(EVERY_PAPER)("%s gives no command line that would be refused", (_name, text) => {
  const line = /(?<![/\w])(?<!-u )drowse (?:-- )?([a-z]+[^\n#>]*)/g;
  const typed = codeIn(text).flatMap((code) => matches(code, line));
  expect(typed.length).toBeGreaterThan(0);
  for (const words of typed) {
    const [first, second, ...rest] = words.split(/\s+/);
    const names = [first!, `${first} ${second}`];
    const name = names.find((one) => COMMANDS.has(one));
    expect(FIRST_WORDS, `drowse ${words}`).toContain(first);
    const known = [...(COMMANDS.get(name ?? "") ?? []), "--config", "--help"];
    for (const flag of [second ?? "", ...rest].filter((word) => word.startsWith("--")))
      expect(known, `drowse ${words}`).toContain(flag);
  }
});

test("the owner's page names no option that is gone", () => {
  const known = ["--config", ...[...COMMANDS.values()].flat()];
  const written = matches(README, /`(--[a-z-]+)/g);
  expect(written.length).toBeGreaterThan(0);
  for (const flag of written) expect(known).toContain(flag);
});

test("DEVELOPERS.md has a heading for each error code, and no other", () => {
  const headings = matches(under(DEVELOPERS, "## Error codes"), /^### (.+)$/gm);
  expect(sorted(headings)).toEqual(sorted(ERROR_CODES));
});

test("each error code is explained", () => {
  for (const code of ERROR_CODES)
    expect(under(DEVELOPERS, `### ${code}`).trim().length, code).toBeGreaterThan(40);
});

test.each(EVERY_PAPER)("%s names no error code that is gone", (_name, text) => {
  const families = new Set(ERROR_CODES.map((code) => code.split("_")[0]));
  for (const word of matches(text, /\b([A-Z]+_[A-Z_]+)\b/g))
    if (families.has(word.split("_")[0])) expect(ERROR_CODES).toContain(word);
});

test("each reason for which a message is no reading is explained", () => {
  const rows = rowsOf(under(DEVELOPERS, "## What became of a message"));
  const written = rows.map(([outcome]) => codeSpan(outcome!));
  for (const reason of Object.keys(REJECT_REASONS)) expect(written).toContain(reason);
});

const SCRIPTS = Object.keys((JSON.parse(read("package.json")) as { scripts: object }).scripts);
const scriptsIn = (text: string) =>
  matches(text, /npm ((?:start|test)|run (?:-s )?[a-z-]+)/g).map((words) =>
    words.replace(/^run (-s )?/, ""),
  );

test("each script is in the developers' page", () => {
  const written = new Set(scriptsIn(under(DEVELOPERS, "## Tests and benches")));
  expect(sorted(written)).toEqual(sorted(SCRIPTS));
});

test.each(EVERY_PAPER)("%s runs no script that is gone", (_name, text) => {
  for (const name of scriptsIn(text)) expect(SCRIPTS).toContain(name);
});

test("every bench can be asked for by the name it has in the papers", () => {
  const names = /NAMES = \[([^\]]*)\]/.exec(read("tests/bench/main.ts"))![1]!;
  const written = new Set(matches(DEVELOPERS, /npm run bench -- ([a-z]+)/g));
  expect(sorted(written)).toEqual(sorted(matches(names, /"([a-z]+)"/g)));
});

test("the owner's page fits in 400 lines and never raises its voice", () => {
  expect(README.trimEnd().split("\n").length).toBeLessThanOrEqual(400);
  const code = /```[\s\S]*?```|`[^`\n]*`|!(?=\[)/g;
  const lines = README.replace(code, "").split("\n");
  expect(lines.filter((line) => line.includes("!"))).toEqual([]);
});

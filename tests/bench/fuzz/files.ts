import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { readPairsFile } from "../../../daemon/checks/pairs-file.js";
import { readTypedNumber } from "../../../daemon/checks/typed-number.js";
import { readReadingsFile } from "../../../daemon/cli/replay/readings-file.js";
import { readHashes } from "../../../daemon/config/hashes-file.js";
import { loadConfig } from "../../../daemon/config.js";
import { ENTRY_COLUMNS, LOT_COLUMNS } from "../../../daemon/journal/columns.js";
import { openDraft } from "../../../daemon/journal/draft.js";
import { draftEntries, draftLots, readCsvRows } from "../../../daemon/journal/journal-csv.js";
import { recallJudge } from "../../../rules/recall.js";
import { KnownError } from "../../../shared/errors.js";
import { parseRfc3339 } from "../../../shared/rfc3339.js";
import { PLAIN } from "../../daemon/config/plain-config.js";
import { anyBytes, anyText, type Fuzzed, fuzzed, insist, SHED } from "./fuzzed.js";

const NOW_MS = Date.UTC(2026, 1, 1, 15);
/** No list of faults that a person is to read may be longer; most name twenty lines. */
const FAULT_CHARS_MOST = 20_000;

const tables = ["[site]", "[broker]", "[[probe]]", "[[chamber]]", "[[sensor]]", "[x.y]", ""];
const keys = ["name", "id", "topic", "embedded", "url", "user", "band_c", "zzz", "place", "time"];
const value = fc.oneof(
  fc.json({ maxDepth: 2 }),
  fc.constantFrom("1", '"a"', "[1, 2]", "1979-05-27", "nan", "0x7fffffffffffffff", '"""', "{}"),
);
const lines = fc.array(fc.tuple(fc.constantFrom(...tables), fc.constantFrom(...keys), value), {
  maxLength: 12,
});
const toml = fc.oneof(
  anyText,
  lines.map((all) => all.map(([table, key, said]) => `${table}\n${key} = ${said}`).join("\n")),
  // One that is sound but for a stretch of it.
  fc
    .tuple(fc.nat(PLAIN.length), fc.nat(40), fc.oneof(anyText, value))
    .map(([at, cut, put]) => PLAIN.slice(0, at) + put + PLAIN.slice(at + cut)),
);

/** A CSV of these columns, or of something near it, with cells that may be quoted. */
const csvOf = (columns: readonly string[], cells: readonly string[]) => {
  const cell = fc.oneof(
    fc.constantFrom(...cells),
    fc.double().map(String),
    fc.string({ maxLength: 12 }),
    fc.string({ unit: "binary", maxLength: 8 }).map((text) => `"${text.replaceAll('"', '""')}"`),
  );
  const head = fc
    .shuffledSubarray([...columns], { minLength: 2 })
    .map((names) => names.slice(0, 14));
  const table = head.chain((names) =>
    fc
      .array(fc.array(cell, { minLength: names.length - 1, maxLength: names.length }), {
        maxLength: 8,
      })
      .map((rows) => [names, ...rows].map((row) => row.join(",")).join("\r\n")),
  );
  return fc.oneof({ arbitrary: table.map((text) => Buffer.from(text)), weight: 3 }, anyBytes);
};
const ROWS = ["2026-01-11T03:15:00Z", "shed-air", "2.4", "-0", "1e999", "2026-01-11", ""];
const ENTRIES = ["damped", "moved", "hedge", "shed", "out", "1", "nothing", "2026-01-11", ""];

const CSV_CORPUS = [
  `time,probe,temperature_c\n${'"'.repeat(9_999)}`,
  `time,probe,temperature_c\n${",".repeat(60_000)}`,
  `probe_c,reference_c\n${"1".repeat(70_000)}`,
  "probe_c,reference_c\n1e308,-1e308\n",
  "deed,corrects\nwithdrawn,1\nwithdrawn,1\n",
  "__proto__,constructor\n1,2\n",
  '\ufeff"deed"\n"',
  "lot,large\n__proto__,1\nhedge,1000000\nhedge,1\n",
].map((text) => Buffer.from(text));

/** What comes as files: the config, hashed passwords, CSVs, and the judge's own memory. */
export function fileParsers(folder: string): readonly Fuzzed[] {
  const put = (name: string, bytes: string | Uint8Array): string => {
    const file = join(folder, name);
    writeFileSync(file, bytes);
    return file;
  };
  const site = { timezone: "Europe/London", chambers: [SHED] };
  const draft = () => openDraft(site, { entries: [], lots: [], nextNo: 1 }, NOW_MS);
  const csv = (
    what: string,
    columns: readonly string[],
    cells: readonly string[],
    read: (file: string) => Promise<void>,
  ): Fuzzed =>
    fuzzed(
      `CSV of ${what}`,
      csvOf(columns, cells),
      CSV_CORPUS,
      (bytes) => read(put(`${what}.csv`, bytes)),
      1,
    );
  return [
    fuzzed("configs", toml, CONFIG_CORPUS, readConfig(put), 3),
    fuzzed("hashed passwords", anyText, [`scrypt$${"9".repeat(400)}$a$b`], (text) => {
      readHashes(text);
    }),
    fuzzed("times and numbers", anyText, NUMBER_CORPUS, (text) => {
      parseRfc3339(text);
      readTypedNumber(text, "temperature", "value");
    }),
    csv("readings", ["time", "probe", "temperature_c"], ROWS, async (file) =>
      orNamed(async () => insistShort((await readReadingsFile(file, ["shed-air"])).faults)),
    ),
    csv("pairs", ["time", "probe_c", "reference_c"], ROWS, async (file) =>
      orNamed(async () => void (await readPairsFile(file))),
    ),
    csv("entries", ENTRY_COLUMNS, ENTRIES, async (file) => {
      const rows = await readCsvRows(file, ENTRY_COLUMNS);
      insistShort([...rows.faults, ...draftEntries(rows, draft())]);
    }),
    csv("lots", LOT_COLUMNS, ENTRIES, async (file) => {
      const rows = await readCsvRows(file, LOT_COLUMNS);
      insistShort([...rows.faults, ...draftLots(rows, draft())]);
    }),
    fuzzed("the judge's memory", fc.oneof(anyText, fc.json()), ['{"__proto__":1}'], (text) => {
      recallJudge(text);
    }),
  ];
}

const CONFIG_CORPUS = [
  `x = ${"[".repeat(9_000)}`,
  "a.".repeat(9_000),
  "[[".repeat(99),
  PLAIN.replace('id = "shed-air"', `id = "${" ".repeat(9_000)}x"`),
  PLAIN.replaceAll("shed", "x".repeat(9_000)),
];
const NUMBER_CORPUS = ["1979-05-27T07:32:00.999999999999999999Z", `1${" ".repeat(4_000)}x`];

const readConfig = (put: (name: string, text: string) => string) => (text: string) =>
  orNamed(() => void loadConfig(put("fuzzed.toml", text)));

function insistShort(faults: readonly string[]): void {
  for (const fault of faults) insist(fault.length < FAULT_CHARS_MOST, `a fault of ${fault.length}`);
}

/** A refusal by name is an answer; anything else that is thrown is a crash. */
function orNamed(read: () => void | Promise<void>): void | Promise<void> {
  const refused = (error: unknown): void => {
    if (!(error instanceof KnownError)) throw error;
    insist(error.message.length < FAULT_CHARS_MOST, `a refusal of ${error.message.length}`);
  };
  try {
    return read()?.catch(refused);
  } catch (error) {
    refused(error);
  }
}

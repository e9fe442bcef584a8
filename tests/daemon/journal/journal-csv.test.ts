import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { ENTRY_COLUMNS, LOT_COLUMNS } from "../../../daemon/journal/columns.js";
import {
  draftEntries,
  draftLots,
  journalCsv,
  lotsCsv,
  readCsvRows,
} from "../../../daemon/journal/journal-csv.js";
import { testFolder } from "../config/written-config.js";
import { HEDGE, openQuillmere } from "./ground.js";

/** Put a text into a file and read it as a journal. */
async function readText(text: string | Buffer, columns: readonly string[] = ENTRY_COLUMNS) {
  const file = join(testFolder(), "some.csv");
  writeFileSync(file, text);
  return readCsvRows(file, columns);
}

const wordsIn = async (text: string) => (await readText(text)).rows.map(({ typed }) => typed.words);

// RFC 4180, section 2, rules 1 to 7, each in the words of a journal.
test.each([
  ["lines end with CRLF", "deed,words\r\nnote,one\r\nnote,two\r\n", ["one", "two"]],
  ["the last line need not end", "deed,words\r\nnote,one", ["one"]],
  ["spaces are part of a field", "deed,words\r\nnote, one \r\n", [" one "]],
  ["fields may be quoted", 'deed,words\r\n"note","one"\r\n', ["one"]],
  ["commas in quotes", 'deed,words\r\nnote,"one, two"\r\n', ["one, two"]],
  ["line breaks in quotes", 'deed,words\r\nnote,"one\r\ntwo"\r\n', ["one\r\ntwo"]],
  ["quotes in quotes are doubled", 'deed,words\r\nnote,"so ""early"""\r\n', ['so "early"']],
  ["LF alone, as most programs write", "deed,words\nnote,one\n", ["one"]],
  ["a mark of UTF-8 before it all", "\ufeffdeed,words\nnote,one\n", ["one"]],
])("%s", async (_rule, text, words) => {
  expect(await wordsIn(text)).toEqual(words);
});

test("what no CSV is, is named by its line", async () => {
  const faultsOf = async (text: string) => (await readText(text)).faults;
  expect(await faultsOf("")).toEqual([expect.stringMatching(/^it is empty, expected the line/)]);
  expect(await faultsOf("deed,colour\n")).toEqual([
    expect.stringMatching(/^line 1: column "colour", expected some of/),
  ]);
  expect(await faultsOf("deed,deed\n")).toEqual(['line 1: column "deed" twice, expected once']);
  expect(await faultsOf("deed,words\nnote\nnote,a,b\n")).toEqual([
    "line 2: 1 cells, expected 2 as in the first line",
    "line 3: 3 cells, expected 2 as in the first line",
  ]);
});

test("each bad line is named with its field, the good ones between do not hide it", async () => {
  const { draft } = openQuillmere();
  const text = "on,deed,saw\n2026-01-11,damped,\n2026-01-12,dampd,\n2027-01-12,inspected,mold\n";
  expect(draftEntries(await readText(text), draft)).toEqual([
    expect.stringMatching(/^line 3, deed "dampd": expected one of .* nearest is damped$/),
    'line 4, on "2027-01-12": expected a time that is not yet to come',
    expect.stringMatching(/^line 4, saw "mold": expected nothing, or some of/),
  ]);
});

test("a line may build on the ones before it", async () => {
  const { draft, lot } = openQuillmere();
  lot(HEDGE);
  const text = "deed,lot,mass_g,cocoons\nweighed,hedge,3.2,30\nweighed,hedge,3.1,\n";
  expect(draftEntries(await readText(text), draft)).toEqual([]);
  expect(draft.ground().entries.at(-1)?.act).toMatchObject({ massG: 3.1, cocoons: 30 });
});

test("a correction means the file's own number where it has some, else the journal's", async () => {
  const first = openQuillmere();
  first.entry({ deed: "damped" });
  first.entry({ deed: "aired" });
  const own = "entry,deed,corrects\n1,cleaned,\n2,withdrawn,1\n";
  expect(draftEntries(await readText(own), first.draft)).toEqual([]);
  expect(first.last().corrects).toBe(3);
  const other = openQuillmere();
  other.entry({ deed: "damped" });
  expect(draftEntries(await readText("deed,corrects\nwithdrawn,1\n"), other.draft)).toEqual([]);
  expect(other.last().corrects).toBe(1);
  const [fault] = draftEntries(await readText("entry,deed,corrects\n5,withdrawn,4\n"), other.draft);
  expect(fault).toMatch(/^line 2, corrects "4": expected the number of an entry/);
});

test("whatever is written down comes back whole by way of CSV", async () => {
  const words = fc
    .string({ unit: "grapheme", maxLength: 40 })
    .map((text) => text.replace(/\p{Cc}|\p{Cs}/gu, "").trim());
  const count = fc.integer({ min: 1, max: 3 }).map(String);
  const deed = fc.oneof(
    fc.record({ deed: fc.constantFrom("damped", "aired", "cleaned"), words }),
    fc.record({ deed: fc.constant("inspected"), saw: fc.constantFrom("nothing", "mould,flies") }),
    fc.record({ deed: fc.constant("note"), words: words.map((text) => `so: ${text}`) }),
    fc.record({ deed: fc.constant("lost"), lot: fc.constant("hedge"), cocoons: count, words }),
    fc.record({ deed: fc.constant("opened"), lot: fc.constant("hedge"), cocoons: count }),
    fc.record({ deed: fc.constant("weighed"), lot: fc.constant("hedge"), mass_g: count, words }),
    fc.record({ deed: fc.constant("withdrawn"), corrects: count, words }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(deed, { maxLength: 12 }), words, async (deeds, origin) => {
      const before = openQuillmere();
      before.lot({ ...HEDGE, origin, words: origin });
      before.entry({ deed: "weighed", lot: "hedge", mass_g: "3.25", cocoons: "30" });
      // Some take back what is taken back already, and are refused.
      for (const typed of deeds) before.draft.addEntry(typed);
      const after = openQuillmere();
      const lots = await readText(lotsCsv(before.versions()), LOT_COLUMNS);
      expect(draftLots(lots, after.draft)).toEqual([]);
      const entries = await readText(journalCsv(before.draft.ground().entries));
      expect(draftEntries(entries, after.draft)).toEqual([]);
      expect(after.draft.batch()).toEqual(before.draft.batch());
    }),
    { seed: 1107, numRuns: 60 },
  );
});

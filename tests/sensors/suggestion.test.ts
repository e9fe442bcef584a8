import fc from "fast-check";
import { parse } from "smol-toml";
import { expect, test } from "vitest";
import { openDecoder } from "../../sensors/decode.js";
import type { ProbeSource } from "../../sensors/source.js";
import { suggestProbe } from "../../sensors/suggestion.js";

const NOW_MS = Date.UTC(2026, 10, 25, 7, 16, 0);
const bytes = (payload: unknown) =>
  new TextEncoder().encode(typeof payload === "string" ? payload : JSON.stringify(payload));

type Entry = Record<string, string | number>;

/** The entry as the config's own reader of TOML sees it. */
function readEntry(text: string | null): Entry {
  expect(text).not.toBeNull();
  const { probe, ...rest } = parse(text ?? "");
  expect(rest).toEqual({});
  expect(probe).toHaveLength(1);
  return (probe as unknown as Entry[])[0]!;
}

const suggest = (payload: unknown, topic = "quillmere/shed/air") =>
  readEntry(suggestProbe(topic, bytes(payload)));

test("an entry has every key a probe needs, and the topic as heard", () => {
  expect(suggest({ temperature: 2.4, humidity: 66 })).toEqual({
    id: "shed-air",
    chamber: "",
    place: "air",
    topic: "quillmere/shed/air",
    payload: "json",
    temperature: "/temperature",
    humidity: "/humidity",
    unit: "C",
    interval_s: 60,
  });
});

test.each([
  {
    why: "nested",
    payload: { data: [{ temp: { value: 2.4 } }] },
    temperature: "/data/0/temp/value",
  },
  { why: "by value alone", payload: { voltage: 3.1, id: 7, n: 5, x: 2.4 }, temperature: "/x" },
  { why: "with odd names", payload: { "a/b": { "temp~1": 2 } }, temperature: "/a~1b/temp~01" },
  { why: "in quotes", payload: { temperature: "2.4" }, temperature: "/temperature" },
])("finds a temperature $why", ({ payload, temperature }) => {
  expect(suggest(payload)).toMatchObject({ payload: "json", temperature });
});

test("finds the sensor's own time, but not a count since power-on", () => {
  expect(suggest({ ts: NOW_MS / 1000, temp: 2 })).toMatchObject({ time: "/ts" });
  expect(suggest({ time: "2026-11-25T07:16:00Z", temp: 2 })).toMatchObject({ time: "/time" });
  expect(suggest({ time: 4711, temp: 2 })).not.toHaveProperty("time");
});

test.each([
  [{ temp_f: 36 }, "F"],
  [{ fahrenheit: 40.5 }, "F"],
  [{ temp: 275.6 }, "K"],
  [{ temp: 68 }, "F"],
  [{ temp: 2.4 }, "C"],
])("%j is taken to be in %s", (payload, unit) => {
  expect(suggest(payload)).toMatchObject({ unit });
});

test("a bare number is what its topic says", () => {
  expect(suggest("2.4", "shed/air/temperature")).toMatchObject({
    payload: "number",
    quantity: "temperature",
  });
  expect(suggest("66", "shed/air/humidity")).toMatchObject({
    payload: "number",
    quantity: "humidity",
  });
  expect(suggest("66", "shed/air/humidity")).not.toHaveProperty("unit");
});

test("SenML is known by its records and named in full", () => {
  const pack = [
    { bn: "urn:dev:ow:10e2073a01080063:", n: "temp", u: "Cel", v: 2.1 },
    { n: "rh", u: "%RH", v: 70 },
  ];
  expect(suggest(pack)).toMatchObject({
    payload: "senml",
    temperature: "urn:dev:ow:10e2073a01080063:temp",
    humidity: "urn:dev:ow:10e2073a01080063:rh",
  });
});

test.each([
  "",
  "hello",
  "[]",
  "{}",
  '{"rssi":-60,"battery":3.1}',
  '{"state":"on"}',
  "\u00ff",
  "null",
])("nothing is suggested for %j", (payload) => {
  expect(suggestProbe("quillmere/shed/air", bytes(payload))).toBeNull();
});

test("an id that is taken gets a number", () => {
  const idFor = (taken: string[]) => readEntry(suggestProbe("q/shed/air", bytes("2.4"), taken)).id;
  expect(idFor([])).toBe("shed-air");
  expect(idFor(["shed-air"])).toBe("shed-air-2");
  expect(idFor(["shed-air-2", "shed-air", "other"])).toBe("shed-air-3");
  expect(readEntry(suggestProbe("///", bytes("2.4"), ["probe"])).id).toBe("probe-2");
});

test("a big or deep document ends in good time without a suggestion", () => {
  expect(suggestProbe("a", bytes(`${'{"a":'.repeat(6_000)}2.4${"}".repeat(6_000)}`))).toBeNull();
  expect(suggestProbe("a", bytes(`{"x":[${"0,".repeat(30_000)}0],"temp":2}`))).not.toBeUndefined();
  expect(suggestProbe("a", bytes("2.4".padEnd(65_536, " ")))).not.toBeNull();
  expect(suggestProbe("a", bytes("2.4".padEnd(65_537, " ")))).toBeNull();
});

test("six levels down is looked at, a seventh is not", () => {
  const nest = (depth: number) => `${'{"a":'.repeat(depth - 1)}{"temp":2}${"}".repeat(depth - 1)}`;
  expect(suggest(nest(6))).toMatchObject({ temperature: "/a/a/a/a/a/temp" });
  expect(suggestProbe("a", bytes(nest(7)))).toBeNull();
});

test("whatever a stranger's topic and keys hold, the entry is TOML that reads it", () => {
  const text = fc.string({ unit: "binary", minLength: 1, maxLength: 30 });
  const nasty = fc.oneof(
    text,
    fc.constantFrom('"""', "'''", "]]\n[site]\nname = 1", "\u007f\u0085\u2028\u202e"),
  );
  fc.assert(
    fc.property(
      nasty,
      nasty,
      fc.double({ min: -20, max: 40, noNaN: true }),
      (topic, key, value) => {
        const payload = bytes({ [key]: { temperature: value } });
        const written = suggestProbe(topic, payload);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: their absence is the point
        expect(written).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028-\u202e]/);
        const entry = readEntry(written);
        expect(entry.topic).toBe(topic);
        const source: ProbeSource = {
          probeId: String(entry.id),
          topic: "any",
          payload: "json",
          temperature: String(entry.temperature),
          humidity: null,
          time: null,
          unit: "C",
          quantity: "temperature",
        };
        const arrival = {
          topic: "any",
          payload,
          retained: false,
          arrivedAtMs: NOW_MS,
          clockSane: true,
        };
        expect(openDecoder([source]).decode(arrival)).toMatchObject([
          { reading: { temperatureC: value === 0 ? 0 : value } },
        ]);
      },
    ),
    { seed: 100, numRuns: 150 },
  );
});

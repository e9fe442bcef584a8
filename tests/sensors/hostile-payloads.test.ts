import fc from "fast-check";
import { expect, test } from "vitest";
import { type Arrival, openDecoder } from "../../sensors/decode.js";
import { arrive, JSON_PROBE, NOW_MS, NUMBER_PROBE, SENML_PROBE } from "./arrivals.js";

const HOSTILE: readonly (string | Uint8Array)[] = [
  "[".repeat(65_536),
  JSON.stringify(["a", "b", "c"].map((name) => ({ n: name.repeat(90), u: "Cel", v: 1 }))),
  '{"temperature":'.repeat(4_000),
  `{"temperature":${"9".repeat(60_000)},"humidity":1e999}`,
  `{"temperature":"${"1".repeat(65_000)}"}`,
  `[${'{"v":1},'.repeat(8_000)}{"v":1}]`,
  `[{"bn":"a","bu":"Cel"}${',{"v":1e9}'.repeat(6_000)}]`,
  `[${'{"n":"a","u":"Cel","v":1},{"n":"b","u":"Cel","v":1},'.repeat(1_200)}{"n":"c"}]`,
  `${"1".repeat(65_000)}e`,
  Uint8Array.of(0xff, 0xfe, 0x00, 0xc0, 0x80, 0xed, 0xa0, 0x80),
  '{"__proto__":{"temperature":2},"toString":1}',
  '{"temperature":{"toString":null,"valueOf":null},"humidity":[[]],"at":{}}',
  "\u0000",
  "null",
];

const EVERY_KIND = openDecoder([JSON_PROBE, NUMBER_PROBE, SENML_PROBE]);

function expectHarmless(arrival: Arrival): void {
  for (const decoded of EVERY_KIND.decode(arrival)) {
    if (decoded.kind === "rejected") {
      expect(decoded.detail).toMatch(/^[\p{L}\p{N}\p{P}\p{S} ]{1,200}$/u);
    } else if (decoded.kind === "battery") {
      expect(decoded.value).toBeGreaterThanOrEqual(0);
      expect(decoded.value).toBeLessThanOrEqual(100);
    } else {
      const { temperatureC, humidityPct } = decoded.kind === "reading" ? decoded.reading : decoded;
      expect(temperatureC ?? humidityPct).not.toBeNull();
      expect(Math.abs(temperatureC ?? 0)).toBeLessThanOrEqual(10_000);
      expect(Math.abs(humidityPct ?? 0)).toBeLessThanOrEqual(10_000);
    }
  }
}

test("hostile payloads give short, printable rejections", () => {
  for (const payload of HOSTILE) expectHarmless(arrive(payload));
});

test("no bytes, no JSON and no time can make it throw", () => {
  const jsonBytes = fc.json({ maxDepth: 8 }).map((text) => new TextEncoder().encode(text));
  const field = fc.oneof(fc.double(), fc.string(), fc.boolean(), fc.constant(null));
  const label = fc.constantFrom(
    "bn",
    "bt",
    "bu",
    "bv",
    "bs",
    "bver",
    "n",
    "u",
    "v",
    "vs",
    "t",
    "s",
    "x_",
  );
  const record = fc.dictionary(label, fc.oneof(field, fc.constantFrom("Cel", "%RH", "a")), {
    noNullPrototype: true,
  });
  const packs = fc.array(record).map((pack) => new TextEncoder().encode(JSON.stringify(pack)));
  const json = fc
    .record({ temperature: field, humidity: field, at: field }, { requiredKeys: [] })
    .map((value) => new TextEncoder().encode(JSON.stringify(value)));
  const payload = fc.oneof(fc.uint8Array({ maxLength: 300 }), jsonBytes, packs, json);
  const topic = fc.oneof(fc.constant("quillmere/shed/air"), fc.string({ unit: "binary" }));
  fc.assert(
    fc.property(
      payload,
      topic,
      fc.boolean(),
      fc.boolean(),
      fc.double(),
      (bytes, on, retained, clockSane, ms) => {
        const arrivedAtMs = clockSane ? NOW_MS : Math.abs(ms % 1e11) || 0;
        expectHarmless({ topic: on, payload: bytes, retained, clockSane, arrivedAtMs });
      },
    ),
    { seed: 8428, numRuns: 500 },
  );
});

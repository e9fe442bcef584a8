import fc from "fast-check";
import { expect, test } from "vitest";
import { type Arrival, openDecoder } from "../../sensors/decode.js";
import type { ProbeSource } from "../../sensors/source.js";
import { arrive, JSON_PROBE, NOW_MS, NUMBER_PROBE, SENML_PROBE } from "./arrivals.js";

const decode = (source: ProbeSource, payload: unknown, over: Partial<Arrival> = {}) =>
  openDecoder([source]).decode(arrive(payload, over));

const reading = (temperatureC: number | null, humidityPct: number | null, takenAtMs = NOW_MS) => ({
  kind: "reading",
  reading: { probeId: "shed-air", takenAtMs, temperatureC, humidityPct },
});

test("a JSON message is one reading at the sensor's own time", () => {
  const payload = { temperature: 2.4, humidity: 66, at: "2026-11-25T07:15:58Z" };
  expect(decode(JSON_PROBE, payload)).toEqual([reading(2.4, 66, NOW_MS - 2000)]);
  expect(decode(JSON_PROBE, { temperature: "2.4" })).toEqual([
    reading(2.4, null),
    expect.objectContaining({
      reason: "pointer-missing",
      detail: "humidity at /humidity: nothing there",
    }),
  ]);
});

test.each([
  ["F", 36.5, 2.5],
  ["K", 275.65, 2.5],
  ["C", 2.5, 2.5],
] as const)("a number in %s becomes °C", (unit, sent, temperatureC) => {
  const [decoded] = decode({ ...NUMBER_PROBE, unit }, ` ${sent}\n`);
  expect(decoded).toMatchObject({ reading: { temperatureC: expect.closeTo(temperatureC, 9) } });
});

test("a number in JSON becomes °C by the same units", () => {
  const source: ProbeSource = { ...JSON_PROBE, humidity: null, unit: "F" };
  expect(decode(source, { temperature: 36.5 })).toMatchObject([
    { reading: { temperatureC: expect.closeTo(2.5, 9) } },
  ]);
});

test("a number may be a humidity, and a unit of temperature does not touch it", () => {
  const source: ProbeSource = { ...NUMBER_PROBE, quantity: "humidity", unit: "F" };
  expect(decode(source, "66.5")).toEqual([reading(null, 66.5)]);
});

test.each(["", "nan", "0x1F", "2,4", "on"])("%j is not a number", (payload) => {
  expect(decode(NUMBER_PROBE, payload)).toMatchObject([
    { kind: "rejected", reason: "not-a-number" },
  ]);
});

test("one SenML pack gives a reading for each time, both quantities together", () => {
  const pack = [
    { bn: "urn:dev:mac:0024befffe804ff1:", bt: NOW_MS / 1000 - 120, n: "rh", u: "%RH", v: 71.5 },
    { n: "temp", u: "K", v: 275.25 },
    { n: "temp", u: "Cel", v: 2.2, t: 60 },
    { n: "rh", u: "%RH", v: 72, t: 60 },
    { n: "battery", u: "%EL", v: 98 },
  ];
  const near = (value: number) => expect.closeTo(value, 9);
  const expected = [reading(near(2.1), 71.5, NOW_MS - 120_000), reading(2.2, 72, NOW_MS - 60_000)];
  expect(decode(SENML_PROBE, pack)).toEqual(expected);
  expect(
    decode(
      SENML_PROBE,
      [...pack].reverse().map((r) => ({ ...pack[0], n: r.n, u: r.u, v: r.v, t: r.t ?? 0 })),
    ),
  ).toEqual(expected);
});

test("SenML names tell two probes of one pack apart", () => {
  // RFC 8428, section 5.1.6; the base time left out, so that it is of now.
  const pack = [
    { bn: "2001:db8::2/", n: "temperature", v: 25.2, u: "Cel" },
    { n: "humidity", v: 30, u: "%RH" },
    { bn: "2001:db8::1/", n: "temperature", v: 12.3, u: "Cel" },
    { n: "humidity", v: 67, u: "%RH" },
  ];
  const named = (n: number, probeId: string): ProbeSource => ({
    ...SENML_PROBE,
    probeId,
    temperature: `2001:db8::${n}/temperature`,
    humidity: `2001:db8::${n}/humidity`,
  });
  expect(openDecoder([named(1, "a"), named(2, "b")]).decode(arrive(pack))).toEqual([
    {
      kind: "reading",
      reading: { probeId: "a", takenAtMs: NOW_MS, temperatureC: 12.3, humidityPct: 67 },
    },
    {
      kind: "reading",
      reading: { probeId: "b", takenAtMs: NOW_MS, temperatureC: 25.2, humidityPct: 30 },
    },
  ]);
  expect(decode(SENML_PROBE, pack)).toMatchObject([{ reason: "ambiguous" }]);
});

test.each([
  {
    why: "°F, which SenML does not register",
    record: { n: "t", v: 36, u: "F" },
    reason: "unit-unknown",
  },
  { why: "no unit", record: { n: "t", v: 2 }, reason: "unit-unknown" },
  { why: "text for a value", record: { n: "t", vs: "2", u: "Cel" }, reason: "not-a-number" },
  { why: "another name", record: { n: "u", v: 2, u: "Cel" }, reason: "pointer-missing" },
  { why: "a later version", record: { n: "t", v: 2, u: "Cel", bver: 11 }, reason: "not-senml" },
])("a SenML record with $why is refused", ({ record, reason }) => {
  expect(decode({ ...SENML_PROBE, temperature: "t" }, [record])).toMatchObject([{ reason }]);
});

test("a SenML pack with nothing for us says so", () => {
  expect(decode(SENML_PROBE, [{ n: "fan", u: "/", v: 1 }])).toMatchObject([
    { reason: "pointer-missing" },
  ]);
});

test.each([
  // What a broken probe says is kept: 85 °C and −127 °C of a DS18B20, a full 16-bit register.
  [85, 85],
  [-127, -127],
  [3276.7, 3276.7],
  [-10_000, -10_000],
  [10_000, 10_000],
  [-10_000.1, null],
  [10_000.1, null],
])("a temperature of %d °C is read as %j", (sent, temperatureC) => {
  const [decoded] = decode(NUMBER_PROBE, String(sent));
  if (temperatureC === null) expect(decoded).toMatchObject({ reason: "out-of-range" });
  else expect(decoded).toEqual(reading(temperatureC, null));
});

test.each([
  [0, 0],
  [100, 100],
  [100.1, 100],
  [105, 100],
  [105.1, 105.1],
  [-0.1, -0.1],
  [10_000.1, null],
  [-10_000.1, null],
])("a humidity of %d % is read as %j", (sent, humidityPct) => {
  const decoded = decode(JSON_PROBE, { temperature: 2, humidity: sent });
  expect(decoded[0]).toEqual(reading(2, humidityPct));
  expect(decoded.slice(1).map((d) => d.kind === "rejected" && d.reason)).toEqual(
    humidityPct === null ? ["out-of-range"] : [],
  );
});

test("several probes may share a topic, and wildcards claim many", () => {
  const inside = { ...JSON_PROBE, temperature: "/in", humidity: null };
  const outside = {
    ...JSON_PROBE,
    probeId: "yard",
    topic: "quillmere/+/air",
    temperature: "/out",
    humidity: null,
  };
  const decoder = openDecoder([
    inside,
    outside,
    { ...outside, probeId: "loft", topic: "quillmere/shed/air" },
  ]);
  expect(decoder.topicFilters).toEqual(["quillmere/shed/air", "quillmere/+/air"]);
  expect(decoder.claims("quillmere/shed/air").map((s) => s.probeId)).toEqual([
    "shed-air",
    "yard",
    "loft",
  ]);
  expect(decoder.claims("quillmere/barn/air").map((s) => s.probeId)).toEqual(["yard"]);
  const readings = decoder.decode(arrive({ in: 2, out: 9 }));
  expect(readings.map((d) => d.kind === "reading" && d.reading.temperatureC)).toEqual([2, 9, 9]);
});

test("bytes that are no UTF-8 are refused, wherever they stand", () => {
  const head = new TextEncoder().encode('{"temperature":2,"humidity":50,"note":"');
  const payload = Uint8Array.of(...head, 0xff, 0x22, 0x7d);
  expect(decode(JSON_PROBE, payload)).toEqual([
    { kind: "rejected", probeId: "shed-air", reason: "not-json", detail: "payload: not UTF-8" },
  ]);
  expect(decode(SENML_PROBE, payload)).toMatchObject([{ reason: "not-senml" }]);
  expect(decode(NUMBER_PROBE, payload)).toMatchObject([{ reason: "not-a-number" }]);
});

test("a topic that no probe claims is said, made harmless", () => {
  const decoded = decode(JSON_PROBE, "2", { topic: "else/\u001b[2J\u202e" });
  expect(decoded).toEqual([
    {
      kind: "rejected",
      probeId: null,
      reason: "unclaimed",
      detail: 'topic "else/�[2J�" matches no probe\'s topic',
    },
  ]);
});

test("64 KiB is read and one byte more is not looked at", () => {
  const padded = (length: number) => `{"temperature":2,"humidity":50}`.padEnd(length, " ");
  expect(decode(JSON_PROBE, padded(65_536))).toEqual([reading(2, 50)]);
  expect(decode(JSON_PROBE, padded(65_537))).toMatchObject([
    { reason: "too-large", probeId: "shed-air" },
  ]);
  expect(decode(JSON_PROBE, padded(65_537), { topic: "else" })).toMatchObject([
    { reason: "too-large", probeId: null },
  ]);
});

test("what a retained message says counts only with a time of its own", () => {
  expect(decode(JSON_PROBE, { temperature: 2, humidity: 50 }, { retained: true })).toMatchObject([
    { reason: "stale-retained", detail: "retained, and no time in it" },
  ]);
  const dated = { temperature: 2, humidity: 50, at: NOW_MS / 1000 - 3600 };
  expect(decode(JSON_PROBE, dated, { retained: true })).toEqual([
    reading(2, 50, NOW_MS - 3_600_000),
  ]);
});

test("while our clock is unset a reading without a time waits, untimed", () => {
  const woken = { arrivedAtMs: 60_000, clockSane: false };
  expect(decode(JSON_PROBE, { temperature: 2, humidity: 50 }, woken)).toEqual([
    { kind: "untimed", probeId: "shed-air", temperatureC: 2, humidityPct: 50, ageMs: 0 },
  ]);
});

test.each([
  ["a wrong filter", { topic: "a/#/b" }],
  ["a wrong pointer", { temperature: "temperature" }],
])("%s is a caller's mistake", (_, wrong) => {
  expect(() => openDecoder([{ ...JSON_PROBE, ...wrong }])).toThrow(RangeError);
});

test("the order of records in a pack changes no reading", () => {
  const records = fc.uniqueArray(
    fc.record({
      n: fc.constantFrom("temp", "rh"),
      t: fc.integer({ min: -600, max: 0 }),
      v: fc.integer({ min: 0, max: 100 }),
    }),
    { selector: ({ n, t }) => `${n} ${t}`, minLength: 1, maxLength: 12 },
  );
  fc.assert(
    fc.property(records, fc.infiniteStream(fc.nat()), (list, ranks) => {
      const pack = list.map((r) => ({ ...r, n: `box:${r.n}`, u: r.n === "temp" ? "Cel" : "%RH" }));
      const shuffled = pack
        .map((r) => ({ r, rank: ranks.next().value }))
        .sort((a, b) => a.rank - b.rank)
        .map(({ r }) => r);
      const decoded = decode(SENML_PROBE, pack);
      const inTimeOrder = (list: typeof decoded) =>
        [...list].sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b)));
      expect(inTimeOrder(decode(SENML_PROBE, shuffled))).toEqual(inTimeOrder(decoded));
      expect(decoded).toHaveLength(new Set(pack.map(({ t }) => t)).size);
    }),
    { seed: 5, numRuns: 200 },
  );
});

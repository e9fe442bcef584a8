import { expect, test } from "vitest";
import { openDecoder } from "../../sensors/decode.js";
import type { ProbeSource } from "../../sensors/source.js";
import { suggestProbe } from "../../sensors/suggestion.js";
import { arrive, JSON_PROBE, SENML_PROBE } from "./arrivals.js";

/** What the messages of a probe say of its battery, in order. */
function said(probe: ProbeSource, ...payloads: readonly unknown[]) {
  const decoder = openDecoder([probe]);
  return payloads.flatMap((payload) =>
    decoder.decode(arrive(payload)).flatMap((decoded) => {
      if (decoded.kind !== "battery") return [];
      const { value, unit, low } = decoded;
      return [{ value, unit, low }];
    }),
  );
}

const percent: ProbeSource = {
  ...JSON_PROBE,
  battery: { at: "/state/battery~1left", unit: "%", low: null },
};

test("the battery of a JSON payload is where its pointer says (RFC 6901)", () => {
  const payload = { temperature: 2, humidity: 66, state: { "battery/left": 87 } };
  expect(said(percent, payload)).toEqual([{ value: 87, unit: "%", low: 20 }]);
  const quoted = { temperature: 2, humidity: 66, state: { "battery/left": "2.95" } };
  const volts = { ...percent, battery: { ...percent.battery!, unit: "V", low: 2.6 } } as const;
  expect(said(volts, quoted)).toEqual([{ value: 2.95, unit: "V", low: 2.6 }]);
});

test("no battery, or one that can't be, is no fault and takes no reading with it", () => {
  for (const state of [undefined, {}, { "battery/left": 255 }, { "battery/left": -1 }]) {
    const decoded = openDecoder([percent]).decode(
      arrive({ temperature: 2, humidity: 66, ...(state && { state }) }),
    );
    expect(decoded.map(({ kind }) => kind)).toEqual(["reading"]);
  }
});

test("a SenML record of that name says in %EL or V what is left (RFC 8428, section 12.1)", () => {
  const probe: ProbeSource = {
    ...SENML_PROBE,
    battery: { at: "quillmere/shed/cell", unit: "%", low: null },
  };
  const pack = (u: string, v: number) => [
    { bn: "quillmere/shed/", n: "air", u: "Cel", v: 2.4 },
    { n: "cell", u, v },
  ];
  expect(said(probe, pack("%EL", 12), pack("V", 2.3))).toEqual([
    { value: 12, unit: "%", low: 20 },
    { value: 2.3, unit: "V", low: 2.4 },
  ]);
  // Seconds of life are registered too, and are no level.
  expect(said(probe, pack("EL", 3_600))).toEqual([]);
});

test.each([
  [{ temperature: 2.4, battery: 87 }, ['battery = "/battery"']],
  [{ temperature: 2.4, batt_volt: 3 }, ['battery = "/batt_volt"', 'battery_unit = "V"']],
  [
    { temperature: 2.4, state: { battery: 2.95 } },
    ['battery = "/state/battery"', 'battery_unit = "V" # a guess by its value'],
  ],
  [{ temperature: 2.4, battery: 2950 }, []],
])("an entry to paste names the battery of %j", (payload, lines) => {
  const bytes = new TextEncoder().encode(JSON.stringify(payload));
  const entry = suggestProbe("quillmere/shed/air", bytes)!;
  expect(entry.split("\n").filter((line) => line.startsWith("battery"))).toEqual(lines);
});

test("an entry for a SenML pack names the record in %EL", () => {
  const pack = [
    { bn: "shed/", n: "air", u: "Cel", v: 2.4 },
    { n: "cell", u: "%EL", v: 80 },
  ];
  const entry = suggestProbe("quillmere", new TextEncoder().encode(JSON.stringify(pack)))!;
  expect(entry).toContain('battery = "shed/cell"');
});

import { expect, test } from "vitest";
import { resolveSenml, type SenmlRecord } from "../../sensors/senml.js";
import { COMPUTED, FROM_THE_RFC } from "./senml-examples.js";

/** A record as the examples write it: absolute time, and the value under whichever label. */
function flatten(record: SenmlRecord, nowS: number | null): Record<string, unknown> {
  const t = record.relative ? record.timeS + (nowS ?? Number.NaN) : record.timeS;
  return {
    n: record.name,
    t: Number(t.toFixed(6)),
    value: typeof record.value === "number" ? Number(record.value.toFixed(9)) : record.value,
    ...(record.unit === null ? {} : { u: record.unit }),
    ...(record.sum === null ? {} : { s: record.sum }),
  };
}

test.each([...FROM_THE_RFC, ...COMPUTED])("resolves $id, $section", ({ pack, resolved, nowS }) => {
  const expected = resolved.map(({ v, vs, vb, vd, ...rest }) => ({
    ...rest,
    value: v ?? vs ?? vb ?? vd,
  }));
  const { records, fault } = resolveSenml(pack);
  expect(fault).toBeNull();
  expect(records?.map((record) => flatten(record, nowS))).toEqual(expected);
});

test("sums and values get their base, and a missing one is zero", () => {
  // RFC 8428, section 4.5.4.
  const { records } = resolveSenml([
    { bn: "meter:", bs: 100, bv: 5, n: "a", v: 1, s: 2 },
    { n: "b", v: 1 },
    { n: "c", s: 4 },
    { bs: 0, n: "d" },
  ]);
  expect(records?.map(({ name, value, sum }) => [name, value, sum])).toEqual([
    ["meter:a", 6, 102],
    ["meter:b", 6, 100],
    ["meter:c", null, 104],
    ["meter:d", null, 0],
  ]);
  expect(resolveSenml([{ n: "e", bv: 5 }]).records?.[0]?.value).toBe(5);
});

test.each([
  // RFC 8428: 4.4 for versions and the underscore, 4.5.1 for names, 4.3 for types, 4.2 for values.
  { why: "a later version", pack: [{ bver: 11, n: "a", v: 1 }], says: "version 11" },
  {
    why: "two versions",
    pack: [
      { bver: 10, n: "a", v: 1 },
      { bver: 9, n: "a", v: 1 },
    ],
    says: "second",
  },
  { why: "half a version", pack: [{ bver: 9.5, n: "a", v: 1 }], says: "version 9.5" },
  {
    why: "a field that must be understood",
    pack: [{ n: "a", v: 1, zone_: 3 }],
    says: "ending in _",
  },
  { why: "no name", pack: [{ v: 1 }], says: "name" },
  { why: "a name with a space", pack: [{ n: "a b", v: 1 }], says: "name" },
  { why: "a name that starts with a dash", pack: [{ n: "-a", v: 1 }], says: "name" },
  { why: "a value in quotes", pack: [{ n: "a", v: "1" }], says: "v: no number" },
  { why: "a value that no double holds", pack: [{ n: "a", v: Infinity }], says: "v: no number" },
  {
    why: "times that add up to no number",
    pack: [{ n: "a", v: 1, bt: 1e308, t: 1e308 }],
    says: "time",
  },
  { why: "two values", pack: [{ n: "a", v: 1, vs: "one" }], says: "both v and vs" },
  { why: "truth in words", pack: [{ n: "a", vb: "true" }], says: "vb" },
  { why: "a number for a name", pack: [{ n: 7, v: 1 }], says: "n: no text" },
  { why: "an empty pack", pack: [], says: "expected a list" },
  { why: "a record outside a pack", pack: { n: "a", v: 1 }, says: "expected a list" },
  { why: "a list for a record", pack: [[1]], says: "no object" },
  { why: "null for a record", pack: [null], says: "no object" },
])("refuses $why", ({ pack, says }) => {
  const { records, fault } = resolveSenml(pack);
  expect(records).toBeNull();
  expect(fault).toContain(says);
});

test("a record that only sets base values is no measurement", () => {
  // RFC 8428, section 5.1.7, begins a pack so; the base value is added here.
  const { records } = resolveSenml([
    { bn: "box:", bv: 20 },
    { n: "temp", v: 1 },
  ]);
  expect(records?.map(({ name, value }) => [name, value])).toEqual([["box:temp", 21]]);
});

test("an unknown field and an earlier version are no fault", () => {
  expect(resolveSenml([{ bver: 5, n: "a", v: 1, colour: "green" }]).records).toHaveLength(1);
});

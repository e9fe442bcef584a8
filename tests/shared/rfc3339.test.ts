import fc from "fast-check";
import { expect, test } from "vitest";
import { formatRfc3339, parseRfc3339 } from "../../shared/rfc3339.js";

test("the examples of the standard are read", () => {
  // RFC 3339, section 5.8, texts as quoted in public test suites; Unix times by GNU date, which
  // has no leap seconds: that of 1990 is 1991-01-01T00:00:00Z in POSIX time.
  expect(parseRfc3339("1985-04-12T23:20:50.52Z")).toBe(482_196_050_520);
  expect(parseRfc3339("1996-12-19T16:39:57-08:00")).toBe(851_042_397_000);
  expect(parseRfc3339("1937-01-01T12:00:27.87+00:20")).toBe(-1_041_337_172_130);
  expect(parseRfc3339("1990-12-31T23:59:60Z")).toBe(662_688_000_000);
  expect(parseRfc3339("1990-12-31T15:59:60-08:00")).toBe(662_688_000_000);
});

test("lower case and a space for T are read, as section 5.6 allows", () => {
  const atMs = Date.UTC(2026, 10, 25, 7, 16, 0);
  for (const text of [
    "2026-11-25t07:16:00z",
    "2026-11-25 07:16:00Z",
    "2026-11-25T07:16:00-00:00",
  ]) {
    expect(parseRfc3339(text), text).toBe(atMs);
  }
  expect(parseRfc3339("2026-11-25T07:16:00.1239Z")).toBe(atMs + 123);
  expect(parseRfc3339("0001-01-01T00:00:00Z")).toBe(-62_135_596_800_000);
});

test.each([
  "",
  "2026-11-25",
  "2026-11-25T07:16:00",
  "2026-11-25T07:16Z",
  "2026-11-25T07:16:00+0100",
  "2026-11-25T07:16:00+24:00",
  "2026-11-25T07:16:00+01:60",
  "2026-11-25T24:00:00Z",
  "2026-11-25T07:60:00Z",
  "2026-11-25T07:16:60Z",
  "2026-11-25T07:16:61Z",
  "2026-11-25T23:59:60Z",
  "2026-02-29T00:00:00Z",
  "2026-13-01T00:00:00Z",
  "2026-00-10T00:00:00Z",
  "2026-11-00T00:00:00Z",
  "26-11-25T07:16:00Z",
  "2026-11-25T07:16:00.Z",
  "2026-11-25T07:16:00Z ",
  "+02026-11-25T07:16:00Z",
  "２026-11-25T07:16:00Z",
])("%j is no date-time", (text) => {
  expect(parseRfc3339(text)).toBeNull();
});

test("29 February exists in leap years only", () => {
  expect(parseRfc3339("2024-02-29T00:00:00Z")).toBe(Date.UTC(2024, 1, 29));
  expect(parseRfc3339("2000-02-29T00:00:00Z")).toBe(Date.UTC(2000, 1, 29));
  expect(parseRfc3339("1900-02-29T00:00:00Z")).toBeNull();
});

test("whole seconds are written without a fraction", () => {
  expect(formatRfc3339(Date.UTC(2026, 10, 25, 7, 16))).toBe("2026-11-25T07:16:00Z");
  expect(formatRfc3339(Date.UTC(2026, 10, 25, 7, 16) + 7)).toBe("2026-11-25T07:16:00.007Z");
  expect(() => formatRfc3339(Number.NaN)).toThrow(RangeError);
  expect(() => formatRfc3339(Date.UTC(10_000, 0, 1))).toThrow(RangeError);
});

test("any moment of four-digit years comes back as it was written", () => {
  const moments = fc.integer({ min: Date.parse("0000-01-01T00:00:00Z"), max: 253_402_300_799_999 });
  fc.assert(
    fc.property(moments, (atMs) => {
      expect(parseRfc3339(formatRfc3339(atMs))).toBe(atMs);
    }),
    { seed: 3339 },
  );
});

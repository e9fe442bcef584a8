import { expect, test } from "vitest";
import { latestDigestSpan } from "../../../daemon/keep/digest-span.js";

const SUNDAY_AT_SEVEN = { weekday: 0, time: "07:00" };
const LONDON = "Europe/London";

const span = (now: string, digest = SUNDAY_AT_SEVEN, zone = LONDON) => {
  const { fromMs, toMs } = latestDigestSpan(Date.parse(now), digest, zone);
  return [new Date(fromMs).toISOString(), new Date(toMs).toISOString()];
};

test("the digest of a Sunday tells of the seven days before it", () => {
  const week = ["2026-01-11T00:00:00.000Z", "2026-01-18T00:00:00.000Z"];
  // 18 January 2026 is a Sunday.
  expect(span("2026-01-18T07:00:00Z")).toEqual(week);
  expect(span("2026-01-18T23:59:59Z")).toEqual(week);
  expect(span("2026-01-24T12:00:00Z")).toEqual(week);
  expect(span("2026-01-25T06:59:59Z")).toEqual(week);
  expect(span("2026-01-25T07:00:00Z")).not.toEqual(week);
});

test("a week in which the clocks change has its own length", () => {
  // In the United Kingdom summer time began on 29 March 2026 at 01:00 UTC.
  expect(span("2026-04-05T09:00:00Z")).toEqual([
    "2026-03-29T00:00:00.000Z",
    "2026-04-04T23:00:00.000Z",
  ]);
});

test("days are those of the site", () => {
  const tokyo = span("2026-01-17T23:00:00Z", SUNDAY_AT_SEVEN, "Asia/Tokyo");
  expect(tokyo).toEqual(["2026-01-10T15:00:00.000Z", "2026-01-17T15:00:00.000Z"]);
});

test("on the days that clocks change it is due by the clock on the wall", () => {
  // 29 March 2026: 07:00 British Summer Time is 06:00 UTC. 25 October: it is 07:00 UTC again.
  const spring = ["2026-03-22T00:00:00.000Z", "2026-03-29T00:00:00.000Z"];
  expect(span("2026-03-29T06:00:00Z")).toEqual(spring);
  expect(span("2026-03-29T05:59:59Z")).not.toEqual(spring);
  const autumn = ["2026-10-17T23:00:00.000Z", "2026-10-24T23:00:00.000Z"];
  expect(span("2026-10-25T07:00:00Z")).toEqual(autumn);
  expect(span("2026-10-25T06:59:59Z")).not.toEqual(autumn);
});

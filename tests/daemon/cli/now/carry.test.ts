import { expect, test } from "vitest";
import { carryJson, carryLines, workOutCarry } from "../../../../daemon/cli/now/carry.js";
import { nothingSeen } from "../../../../rules/season.js";
import { KnownError } from "../../../../shared/errors.js";
import type { Reading } from "../../../../shared/reading.js";
import type { Site } from "../../../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../../../shared/time.js";
import { QUILLMERE } from "../../letters/quillmere.js";

const shed = (cocoonC: number | null) => ({
  ...nothingSeen("shed"),
  cocoonC,
  cocoonLag: {
    ms: HOUR_MS,
    spanMs: { low: 30 * MINUTE_MS, high: 120 * MINUTE_MS },
    from: "assumed",
  } as const,
});
const nothingRead = { readings: { latest: () => null } } as never;

test("a box of 4 °C in a room of 20 °C and 50 %RH is shut until it has passed 9.3 °C", () => {
  const carries = workOutCarry("20,50", QUILLMERE, nothingRead, [shed(4)], "C");
  // The dew point of 20 °C and 50 %RH is 9.3 °C (WMO-No. 8, Annex 4.B, and psychrometric tables).
  expect(carries[0]!.warmUp!.dewPointC).toBeCloseTo(9.26, 1);
  // Newton's law: the fast end takes 30 min · ln(16 / 10.74) = 12 min; the slow end, whose box is
  // shut and so half as slow again, 180 min · ln(16 / 10.74) = 72 min.
  const { lowMin, highMin } = carryJson(carries)[0]!;
  expect(lowMin).toBeCloseTo(12, 0);
  expect(highMin).toBeCloseTo(72, 0);
  const [line] = carryLines(carries, "C");
  expect(line).toContain("A box from shed in a room of 20.0 °C and 50 %RH: keep it shut for about");
  expect(line).toContain("until it has warmed to the dew point of 9.3 °C");
});

test("the room may be told in °F, and by a probe in it", () => {
  const told = workOutCarry("68,50", QUILLMERE, nothingRead, [shed(4)], "F");
  expect(told[0]!.room.roomC).toBeCloseTo(20, 6);
  const site: Site = {
    ...QUILLMERE,
    probes: [
      ...QUILLMERE.probes,
      { id: "kitchen", chamberId: "shed", place: "room", intervalMs: MINUTE_MS },
    ],
  };
  const reading: Reading = { probeId: "kitchen", takenAtMs: 0, temperatureC: 20, humidityPct: 50 };
  const store = { readings: { latest: (id: string) => (id === "kitchen" ? reading : null) } };
  const measured = workOutCarry(true, site, store as never, [shed(4)], "C");
  expect(measured[0]!.room).toEqual({ roomC: 20, humidityPct: 50 });
});

test("where nothing would condense it may be opened, and where all would it must stay in the cold", () => {
  const say = (room: string, cocoonC: number | null) =>
    carryLines(workOutCarry(room, QUILLMERE, nothingRead, [shed(cocoonC)], "C"), "C")[0];
  expect(say("10,40", 4)).toContain("stays dry: it may be opened at once");
  expect(say("20,100", 4)).toContain("gets wet however long it is kept shut");
  expect(say("20,50", null)).toContain("the cocoons are not known");
});

test.each(["20", "20,", "warm,50", "20,0", "20,101", "200,50", "20,50,3", ""])(
  "the room %j is refused with an example",
  (room) => {
    const work = () => workOutCarry(room, QUILLMERE, nothingRead, [shed(4)], "C");
    expect(work).toThrow(KnownError);
    expect(work).toThrow(/^WRONG_USE: carry ".*expected the room's °C and %RH, for example 20,50$/);
  },
);

test("without a room and without a probe in one it says what it needs", () => {
  expect(() => workOutCarry(true, QUILLMERE, nothingRead, [shed(4)], "C")).toThrow(
    /^WRONG_USE: carry without a room, expected one such as 20,50, or a probe/,
  );
});

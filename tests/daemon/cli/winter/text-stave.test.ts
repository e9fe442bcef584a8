import { expect, test } from "vitest";
import { staveLines } from "../../../../daemon/cli/winter/text-stave.js";
import type { WinterMaterial } from "../../../../daemon/drawing/material.js";
import { monthRows } from "../../../../daemon/drawing/sheet-rows.js";
import { DAY_MS } from "../../../../shared/time.js";
import { DECEMBER_MS, december, hours, LOOK } from "../../drawing/winter-material.js";

const lines = (material: WinterMaterial) =>
  staveLines(material, monthRows(material.span, "shed", LOOK)[0]!);
/** Hours of ten days, each day at one value. */
const days = (...values: readonly number[]) =>
  hours(values.flatMap((value) => Array(24).fill(value)));
const tenDays = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 10 * DAY_MS };

test("each day has the hatching of its direction, in letters", () => {
  const cocoons = days(2, 5, 2, 0, 2, 2, 2, 2, 2, 2);
  const humidity = days(65, 65, 80, 65, 50, 65, 65, 65, 65, 65);
  const [first, second] = lines(december({ watched: tenDays, cocoons, humidity }));
  expect(first).toBe("cocoons   --\\\\--//------------");
  expect(second).toBe("humidity  ----==--||----------");
});

test("a day both too warm and too cold shows both, and half a degree-hour is the least", () => {
  const day = (warmC: number, coldC: number) => [
    ...Array.from({ length: 12 }, () => warmC),
    ...Array.from({ length: 12 }, () => coldC),
  ];
  const of = (...means: readonly (readonly number[])[]) =>
    lines(
      december({
        watched: { ...tenDays, toMs: DECEMBER_MS + means.length * DAY_MS },
        cocoons: hours(means.flat()),
        humidity: [],
      }),
    )[0];
  // 12 h at 0.05 K are 0.6 °C·h, at 0.04 K 0.48.
  expect(of(day(9, -2), day(3.35, 2), day(3.34, 2))).toBe("cocoons   \\/\\\\--");
});

test("what was not seen is crossed, and what was not kept is blank", () => {
  const cocoons = days(2, 2, 2, 2).filter(({ fromMs }) => {
    const hour = (fromMs - DECEMBER_MS) / 3_600_000;
    return hour < 24 || hour >= 70;
  });
  const [first] = lines(
    december({ watched: { ...tenDays, toMs: DECEMBER_MS + 4 * DAY_MS }, cocoons }),
  );
  // Of the second day nothing is known, of the third two hours.
  expect(first).toBe("cocoons   --xxxx--");
});

test("openings are counted day by day, ten and more as many", () => {
  const at = (day: number, count: number) =>
    Array.from({ length: count }, (_, i) => DECEMBER_MS + day * DAY_MS + i * 60_000);
  const openingsMs = [...at(0, 3), ...at(2, 9), ...at(3, 10)];
  const text = lines(december({ watched: tenDays, openingsMs }));
  expect(text[2]).toMatch(/^openings {2}3 \. 9 9\+\. /);
  expect(text[3]).toBe("          1       5         10        15        20        25        30");
});

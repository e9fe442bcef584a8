import { expect, test } from "vitest";
import { drawCourse } from "../../../daemon/drawing/course-picture.js";
import type { CourseMaterial } from "../../../daemon/drawing/material.js";
import { spanAround } from "../../../daemon/season/gather-course.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { outlinesOf } from "./read-path.js";
import { DECEMBER_MS, december, doorMark, hours, LOOK } from "./winter-material.js";

/** Twelve hours: the band for four, then eight hours at 7.3 °C. */
function course(changed: Partial<CourseMaterial> = {}): CourseMaterial {
  const span = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 12 * HOUR_MS };
  const means = Array.from({ length: 12 }, (_, i) => (i < 4 ? 2.2 : 7.3));
  return {
    ...december({
      span,
      watched: span,
      cocoons: hours(means),
      humidity: hours(means.map(() => 65)),
    }),
    air: hours(means.map((mean) => mean + 1)),
    forecasts: [],
    ...changed,
  };
}

const toldAt4 = {
  atMs: DECEMBER_MS + 4 * HOUR_MS,
  cocoonC: 3,
  forecast: {
    settlesAtC: { low: 7, high: 9 },
    reaches: [
      { targetC: 3.3, soonestMin: 30, latestMin: 90 },
      { targetC: 10, soonestMin: 120, latestMin: null },
    ],
  },
};

/** Where moments lie along: the drawing is 1000 px wide, its scale 34 px, its edge 2 px. */
const along = (hour: number) => 34 + (964 / 12) * hour;

test("a forecast stands as gates between its soonest and its latest moment", () => {
  const svg = drawCourse(course({ forecasts: [toldAt4] }), LOOK).toString();
  const gates = [
    ...svg.matchAll(
      /<path d="(M[^"]+)" stroke="[^"]+" stroke-width="1.3" stroke-dasharray="([^"]+)"/g,
    ),
  ];
  expect(gates).toHaveLength(2);
  const posts = outlinesOf(gates[0]![1]!).map((outline) => outline[0]![0]);
  expect(posts[0]).toBeCloseTo(along(4.5), 1);
  expect(posts[1]).toBeCloseTo(along(5.5), 1);
  expect(svg).toContain(">3.3 °C</text>");
});

test("a gate that may never be passed is open to the right", () => {
  const svg = drawCourse(course({ forecasts: [toldAt4] }), LOOK).toString();
  const open = /<path d="(M[^"]+)" stroke="[^"]+" stroke-width="1.3" stroke-dasharray="3 2"/.exec(
    svg,
  )!;
  const outlines = outlinesOf(open[1]!);
  expect(outlines).toHaveLength(2);
  expect(outlines[0]![0]![0]).toBeCloseTo(along(6), 1);
  expect(outlines[1]!.at(-1)![0]).toBe(999);
});

test("a gate lies at its temperature: that of 3.3 °C on the band's upper edge", () => {
  const svg = drawCourse(course({ forecasts: [toldAt4] }), LOOK).toString();
  const band = /<rect x="34" y="([\d.]+)"/.exec(svg)!;
  const gate = /<path d="(M[^"]+)" stroke="[^"]+" stroke-width="1.3" stroke-dasharray="none"/.exec(
    svg,
  )!;
  const [, , bar] = outlinesOf(gate[1]!);
  expect(bar![0]![1]).toBeCloseTo(Number(band[1]), 1);
});

test("degrees are written in the keeper's unit, and clocks as the keeper reads them", () => {
  const look = { ...LOOK, unit: "F", hourCycle: "h12" } as const;
  const svg = drawCourse(course(), look).toString();
  expect(svg).toContain(">°F</text>");
  const [, top, tall] = /<rect x="34" y="([\d.]+)" width="[\d.]+" height="([\d.]+)"/
    .exec(svg)!
    .map(Number);
  // 40 °F is 4.444 °C; the band's 2.2 K from 3.3 °C down give the scale. Figures sit 3.5 px lower.
  const y = top! - ((4.4444 - 3.3) / 2.2) * tall!;
  const figure = /y="([\d.]+)"[^>]*>40<\/text>/.exec(svg)!;
  expect(Number(figure[1])).toBeCloseTo(y + 3.5, 0);
  expect(svg).toContain(">6:00 am</text>");
  expect(drawCourse(course(), LOOK).toString()).toContain(">06:00</text>");
});

test("an excursion under way reaches to the end of the picture", () => {
  const mark = doorMark({ startedAtMs: DECEMBER_MS + 4 * HOUR_MS, endedAtMs: null });
  const svg = drawCourse(course({ excursions: [mark] }), LOOK).toString();
  const bar = /<path d="(M[^"]+)" stroke="[^"]+" stroke-width="3"/.exec(svg)!;
  const [from, to] = outlinesOf(bar[1]!)[0]!.map(([x]) => x);
  expect(from).toBeCloseTo(along(4), 1);
  expect(to).toBeGreaterThan(997);
  expect(svg).toContain("door ajar, not over");
});

test("a picture of an excursion shows what was usual before it, and some time after", () => {
  const short = doorMark();
  const span = spanAround(short, 0);
  expect(short.startedAtMs - span.fromMs).toBe(90 * MINUTE_MS);
  expect(span.toMs - short.endedAtMs!).toBe(90 * MINUTE_MS);
  const long = { ...short, endedAtMs: short.startedAtMs + 300 * HOUR_MS };
  expect(short.startedAtMs - spanAround(long, 0).fromMs).toBe(12 * HOUR_MS);
});

test("a course without cocoons, air or humidity is still a picture that says so", () => {
  const svg = drawCourse(course({ cocoons: [], air: [], humidity: [] }), LOOK).toString();
  expect(svg).toContain("Nothing is known of the cocoons.");
  expect(svg).not.toMatch(/NaN|Infinity|undefined/);
});

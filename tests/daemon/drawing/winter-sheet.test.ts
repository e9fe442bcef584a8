import { expect, test } from "vitest";
import { frameSheet } from "../../../daemon/drawing/sheet-frame.js";
import {
  drawMonthSheet,
  drawMonths,
  drawWinterSheet,
  drawWinterStaves,
} from "../../../daemon/drawing/winter-sheet.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { areaOf, outlinesOf } from "./read-path.js";
import { DECEMBER_MS, december, doorMark, hours, LOOK } from "./winter-material.js";

/** Outlines of every path that is hatched so. */
const hatchedIn = (svg: string, hatch: string) =>
  [...svg.matchAll(new RegExp(`<path d="([^"]+)" fill="url\\(#sheet-${hatch}\\)"`, "g"))].flatMap(
    ([, data]) => outlinesOf(data!),
  );
const areaIn = (svg: string, hatch: string) =>
  hatchedIn(svg, hatch).reduce((sum, outline) => sum + areaOf(outline), 0);

/** Means of December with `count` of them, from the third day's start on, put otherwise. */
const meansWith = (count: number, meanC: number) =>
  Array.from({ length: 31 * 24 }, (_, i) => (i >= 48 && i < 48 + count ? meanC : 2.2));

test("the hatched area is the degree-hours beyond the band", () => {
  const material = december({ cocoons: hours(meansWith(10, 5.3), 0) });
  const frame = frameSheet(material, LOOK, 31);
  const svg = drawWinterSheet(material, LOOK).toString();
  // A trapezium: 9 h from the first hour's middle to the last one's at 2.0 K above 3.3 °C, and a
  // slope at each end, which leaves 2.2 °C for 5.3 °C within an hour: 2.0/3.1 h long, 2.0 K high.
  const degreeHours = 9 * 2 + (2 * (2 / 3.1) * 2) / 2;
  const pxPerDegreeHour = frame.pxPerK * (frame.pxPerDay / 24);
  // Coordinates are whole tenths of a pixel: a tenth along each of the sides.
  expect(areaIn(svg, "warm") / pxPerDegreeHour).toBeCloseTo(degreeHours, 0);
  expect(Math.abs(areaIn(svg, "warm") / pxPerDegreeHour / degreeHours - 1)).toBeLessThan(0.02);
  expect(areaIn(svg, "cold")).toBe(0);
});

test("what lies below the band is hatched as cold, beneath the band's lower edge", () => {
  const svg = drawWinterSheet(december({ cocoons: hours(meansWith(10, -0.9)) }), LOOK).toString();
  expect(areaIn(svg, "warm")).toBe(0);
  const [outline] = hatchedIn(svg, "cold");
  const edge = outline![0]![1];
  expect(Math.min(...outline!.map(([, y]) => y))).toBe(edge);
  expect(Math.max(...outline!.map(([, y]) => y))).toBeGreaterThan(edge + 10);
});

test("damp and dry are told apart in the lane beneath", () => {
  const means = Array.from({ length: 31 * 24 }, (_, i) => (i < 100 ? 82 : i < 200 ? 65 : 48));
  const svg = drawWinterSheet(december({ humidity: hours(means) }), LOOK).toString();
  expect(areaIn(svg, "damp")).toBeGreaterThan(0);
  expect(areaIn(svg, "dry")).toBeGreaterThan(areaIn(svg, "damp"));
});

test("an excursion's hatching lies on its day", () => {
  const svg = drawWinterSheet(december({ cocoons: hours(meansWith(10, 5.3)) }), LOOK).toString();
  const frame = frameSheet(december(), LOOK, 31);
  const [outline] = hatchedIn(svg, "warm");
  const xs = outline!.map(([x]) => x);
  expect(Math.min(...xs)).toBeGreaterThan(frame.leftPx + 1.9 * frame.pxPerDay);
  expect(Math.max(...xs)).toBeLessThan(frame.leftPx + 2.6 * frame.pxPerDay);
});

test("what was not seen is crossed, and no thread runs through it", () => {
  const gap = { fromMs: DECEMBER_MS + 5 * DAY_MS, toMs: DECEMBER_MS + 7 * DAY_MS };
  const cocoons = december().cocoons.filter(
    ({ fromMs }) => fromMs < gap.fromMs || fromMs >= gap.toMs,
  );
  const material = december({ cocoons, humidity: [], unseen: [gap] });
  const frame = frameSheet(material, LOOK, 31);
  const svg = drawWinterSheet(material, LOOK).toString();
  const [outline] = hatchedIn(svg, "unseen");
  const xs = outline!.map(([x]) => x);
  expect(Math.min(...xs)).toBeCloseTo(frame.leftPx + 5 * frame.pxPerDay, 0);
  expect(Math.max(...xs)).toBeCloseTo(frame.leftPx + 7 * frame.pxPerDay, 0);
  const thread = /<path d="([^"]+)" fill="[^"]+" fill-opacity=".25"/.exec(svg)![1]!;
  expect(outlinesOf(thread)).toHaveLength(2);
});

test("an excursion is named under its month with its cause and its cost", () => {
  const svg = drawWinterSheet(december({ excursions: [doorMark()] }), LOOK).toString();
  // Values are bound to their units by spaces that do not break.
  expect(svg.replaceAll("\u00a0", " ")).toContain(
    "Thu 3 Dec, 20:00: door ajar, 2 h 10 min: 3.4 °C·h above, reserve 0.1 d",
  );
});

test("ordinary openings are ticks and no notes", () => {
  const openingsMs = [2.5, 2.51, 20.25].map((day) => DECEMBER_MS + day * DAY_MS);
  const svg = drawWinterSheet(december({ openingsMs }), LOOK).toString();
  const frame = frameSheet(december(), LOOK, 31);
  const ticks = /<path d="([^"]+)" stroke="[^"]+" stroke-width=".7" fill="none"\/><g/.exec(
    svg,
  )![1]!;
  // The second is drawn over the first, or it would be a blot.
  const xs = outlinesOf(ticks).map(([place]) => place![0]);
  expect(xs).toHaveLength(2);
  expect(xs[0]).toBeCloseTo(frame.leftPx + 2.5 * frame.pxPerDay, 1);
  expect(xs[1]).toBeCloseTo(frame.leftPx + 20.25 * frame.pxPerDay, 1);
});

test("months, days and excursions are links, and only months and excursions stop the tab key", () => {
  const look = {
    ...LOOK,
    hrefOf: (address: { kind: string }) => `/${address.kind}`,
  };
  const svg = drawWinterSheet(december({ excursions: [doorMark()] }), look).toString();
  expect(svg.match(/<a href="\/day" tabindex="-1">/g)).toHaveLength(31);
  expect(svg.match(/<a href="\/month">/g)).toHaveLength(1);
  expect(svg.match(/<a href="\/excursion">/g)).toHaveLength(1);
  expect(svg).toContain('role="group"');
  expect(svg).toContain("<title>Thu 3 Dec: 2.1 to 2.3 °C, 65 %RH</title>");
});

test("without addresses it is one image without a link", () => {
  const svg = drawWinterSheet(december({ excursions: [doorMark()] }), LOOK).toString();
  expect(svg).not.toContain("<a ");
  expect(svg).toContain('role="img"');
});

test("names and notes from outside are escaped", () => {
  const hostile = '"><script>alert(1)</script>';
  const svg = drawWinterSheet(
    december({
      siteName: hostile,
      chamberId: hostile,
      annotations: [{ atMs: DECEMBER_MS + DAY_MS, kind: "other", text: hostile }],
    }),
    { ...LOOK, hrefOf: () => hostile },
  ).toString();
  expect(svg).not.toContain("<script");
  expect(svg.match(/href="[^"]*"/g)!.every((href) => href.includes("&lt;script"))).toBe(true);
});

test("a month's sheet has a stave for each week, and days lie under their weekdays", () => {
  const material = december({ cocoons: hours(meansWith(10, 5.3)) });
  const frame = frameSheet(material, LOOK, 7);
  const svg = drawMonthSheet(material, LOOK).toString();
  // 1 December 2026 is a Tuesday: 1 to 6, 7 to 13, 14 to 20, 21 to 27, 28 to 31.
  for (const heading of [
    "Tue 1 Dec to Sun 6 Dec",
    "Mon 7 Dec to Sun 13 Dec",
    "Mon 28 Dec to Thu 31 Dec",
  ])
    expect(svg).toContain(`>${heading}</text>`);
  // The warm hours are those of the 3rd, a Thursday, the fourth day from the left.
  const xs = hatchedIn(svg, "warm")[0]!.map(([x]) => x);
  expect(Math.min(...xs)).toBeGreaterThan(frame.leftPx + 2.9 * frame.pxPerDay);
  expect(Math.max(...xs)).toBeLessThan(frame.leftPx + 3.6 * frame.pxPerDay);
});

test("days too narrow to be touched are no links", () => {
  const look = { ...LOOK, widthPx: 358, hrefOf: () => "/somewhere" };
  const svg = drawWinterSheet(december(), look).toString();
  expect(svg.match(/<a /g)).toHaveLength(1);
});

test("months apart say the same as months under each other, each with words of its own", () => {
  const span = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 40 * DAY_MS };
  const material = december({ span, cocoons: hours(meansWith(10, 5.3)), excursions: [doorMark()] });
  const months = drawMonths(material, LOOK).map(({ monthMs }) => monthMs);
  expect(months).toEqual([DECEMBER_MS, DECEMBER_MS + 31 * DAY_MS]);
  // December, January and the legend.
  const staves = drawWinterStaves(material, LOOK).map(String);
  const ids = staves.flatMap((svg) => [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
  expect(new Set(ids).size).toBe(ids.length);
  expect(areaIn(staves[0]!, "warm")).toBeCloseTo(
    areaIn(drawWinterSheet(material, LOOK).toString(), "warm"),
    6,
  );
  expect(staves[0]).toContain('<desc id="sheet-0-desc">Cocoons from 2.1 to 5.4 °C');
  expect(staves[1]).toContain("Nothing is known of the cocoons.");
});

test("two winters beside each other have one scale, that of the worse", () => {
  const calm = december();
  const bad = december({ cocoons: hours(meansWith(10, 25)) });
  const alone = frameSheet(calm, LOOK, 31);
  expect(frameSheet(calm, LOOK, 31, [bad]).pxPerK).toBe(frameSheet(bad, LOOK, 31).pxPerK);
  expect(frameSheet(calm, LOOK, 31, [bad]).pxPerK).toBeLessThan(alone.pxPerK);
});

test("an excursion of the humidity lies over the humidity, the others above all", () => {
  const damp = doorMark({ id: "damp", cause: "damp", urgency: "visit" });
  const svg = drawWinterSheet(december({ excursions: [doorMark(), damp] }), LOOK).toString();
  const bars = [
    ...svg.matchAll(/<path d="(M[^"]+)" stroke="var\(--(\w+),[^"]+" stroke-width="3"/g),
  ];
  const [door, moss] = bars.map(([, data, way]) => ({ way, y: outlinesOf(data!)[0]![0]![1] }));
  expect([door!.way, moss!.way]).toEqual(["warm", "damp"]);
  const panes = [...svg.matchAll(/<rect x="34" y="([\d.]+)" width="[\d.]+" height="([\d.]+)"/g)];
  const [warmth, humidity] = panes.map(([, y, tall]) => ({
    top: Number(y),
    end: Number(y) + Number(tall),
  }));
  expect(door!.y).toBeLessThan(warmth!.top);
  expect(moss!.y).toBeGreaterThan(warmth!.end);
  expect(moss!.y).toBeLessThan(humidity!.top);
});

test("a month that is over keeps its key while the watch goes on, and loses it with any change", () => {
  const span = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 62 * DAY_MS };
  const atMs = DECEMBER_MS + 5 * DAY_MS;
  const keyOf = (changed: Parameters<typeof december>[0], look = LOOK) =>
    drawMonths(december({ span, watched: span, ...changed }), look)[0]!.key;
  const key = keyOf({});
  const longer = { ...span, toMs: span.toMs + HOUR_MS };
  expect(keyOf({ watched: longer, openingsMs: [span.toMs - 1] })).toBe(key);
  const changes: readonly Parameters<typeof december>[0][] = [
    { cocoons: hours(meansWith(10, 2.3)) },
    { humidity: [] },
    { bandC: { low: 1, high: 3.3 } },
    { openingsMs: [atMs] },
    { excursions: [doorMark()] },
    { annotations: [{ atMs, kind: "damped", text: "damped" }] },
    { unseen: [{ fromMs: atMs, toMs: atMs + HOUR_MS }] },
    { watched: { ...span, fromMs: atMs } },
    { chamberId: "attic" },
  ];
  const keys = [...changes.map((changed) => keyOf(changed)), keyOf({}, { ...LOOK, unit: "F" })];
  expect(new Set([key, ...keys]).size).toBe(keys.length + 1);
});

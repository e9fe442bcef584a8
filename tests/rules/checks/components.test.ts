import { expect, test } from "vitest";
import { checkComponents } from "../../../rules/checks/components.js";
import { ICE_POINT_C } from "../../../rules/checks/ice-point.js";
import { combine } from "../../../rules/checks/uncertainty.js";

const STEPS = { probe: 0.1, reference: 0.1 };
const named = (list: ReturnType<typeof checkComponents>) =>
  Object.fromEntries(list.map(({ what, standard }) => [what, standard]));

test("a certificate's expanded uncertainty counts half, a display's step over the root of twelve", () => {
  const reference = { kind: "instrument", name: "", correction: 0, expanded: 0.2 } as const;
  const list = named(checkComponents("temperature", reference, STEPS));
  expect(list["the reference"]).toBe(0.1);
  // JCGM 100:2008, F.2.2.1: u = 0.29 δx.
  expect(list["the probe's step"]).toBeCloseTo(0.029, 3);
  expect(list["the reference's step"]).toBeCloseTo(0.029, 3);
});

test("melting ice is at 0 °C", () => {
  // ASTM E563, scope: the ice point is 0 °C.
  expect(ICE_POINT_C).toBe(0);
});

test("an ice bath has no display of its own, and what is nothing is not listed", () => {
  const steps = { probe: null, reference: 0.1 };
  const list = checkComponents("temperature", { kind: "ice" }, steps);
  expect(list.map(({ what }) => what)).toEqual([
    "the ice bath",
    "probe and reference not quite in one spot",
  ]);
});

test("over a salt solution it is the air's temperature that one is least sure of", () => {
  const salt = { kind: "salt", salt: "NaCl", temperatureC: 5 } as const;
  const list = named(checkComponents("humidity", salt, STEPS));
  // Saturation pressure grows by 7 % for each kelvin at 5 °C (ASHRAE tables: 872.1 Pa at 5 °C,
  // 934.7 Pa at 6 °C, from memory), so 0.2 K are 1.4 % of 75.65 %RH.
  expect(list["air not quite as warm as the solution"]).toBeCloseTo((0.014 * 75.65) / 3 ** 0.5, 1);
  const [largest] = Object.entries(list).sort((a, b) => b[1] - a[1]);
  expect(largest![0]).toBe("air not quite as warm as the solution");
});

test("all of it together is well inside what is asked of a probe", () => {
  const ice = combine(checkComponents("temperature", { kind: "ice" }, STEPS)).expanded;
  expect(ice).toBeLessThan(0.5 / 3);
  const salt = { kind: "salt", salt: "NaCl", temperatureC: 20 } as const;
  expect(combine(checkComponents("humidity", salt, STEPS)).expanded).toBeLessThan(3 / 2);
});

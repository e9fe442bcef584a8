import type { QUANTITIES, Quantity, Reference } from "../../shared/check.js";
import { saturationPressureHpa } from "../humid-air.js";
import { ICE_POINT_STANDARD_K } from "./ice-point.js";
import { saltPoint } from "./salt-points.js";
import { type Component, ofExpanded, ofHalfWidth, ofStep } from "./uncertainty.js";

/** The smallest steps in which two displays move, in the unit of the quantity; null: not known. */
export type Steps = Readonly<{ probe: number | null; reference: number | null }>;

/**
 * How far apart a probe and a reference that lie side by side may be; our choice. In still air
 * they can be much farther apart, which no figure can mend: it takes a bath or a tight bundle.
 */
const APART: Readonly<Record<Quantity, number>> = { temperature: 0.05, humidity: 0.5 };
/** How far the air at a probe may be from the temperature of the solution, K; our choice. */
const AIR_FROM_SOLUTION_K = 0.2;
/** How well the temperature of a solution is known, K; our choice. */
const SOLUTION_KNOWN_TO_K = 0.5;

/**
 * What makes a check unsure beside the scatter of its pairs: the reference, the displays, and
 * where things lie. All of kind B, as standard uncertainties in the unit of the quantity.
 *
 * @throws {RangeError} on a salt's temperature from 0 to 25 °C that is outside it
 */
export function checkComponents(
  quantity: Quantity,
  reference: Reference,
  steps: Steps,
): readonly Component[] {
  const list = [...ofReference(reference), ...ofDisplays(reference, steps)];
  if (reference.kind !== "salt") {
    const reach = APART[quantity];
    const from = `${reach} ${UNITS[quantity]} to either side, our choice`;
    list.push(typeB("probe and reference not quite in one spot", ofHalfWidth(reach), from));
  }
  return list.filter(({ standard }) => standard > 0);
}

const UNITS: Readonly<Record<(typeof QUANTITIES)[number], string>> = {
  temperature: "K",
  humidity: "%RH",
};

const typeB = (what: string, standard: number, from: string): Component => ({
  what,
  kind: "B",
  standard,
  degreesOfFreedom: null,
  from,
});

function ofReference(reference: Reference): Component[] {
  if (reference.kind === "ice")
    return [typeB("the ice bath", ICE_POINT_STANDARD_K, "a slush bath made at home, our choice")];
  if (reference.kind === "instrument")
    return [
      typeB("the reference", ofExpanded(reference.expanded), "its certificate, halved (k = 2)"),
    ];
  return ofSalt(reference.salt, reference.temperatureC);
}

function ofSalt(...[salt, temperatureC]: Parameters<typeof saltPoint>): Component[] {
  const { humidityPct, halfWidthPct, perKelvinPct } = saltPoint(salt, temperatureC);
  // Air warmer than the solution holds the same vapour at a lower relative humidity.
  const warmer = saturationPressureHpa(temperatureC + AIR_FROM_SOLUTION_K);
  const airPct = humidityPct * (1 - saturationPressureHpa(temperatureC) / warmer);
  return [
    typeB("the salt's value", ofHalfWidth(halfWidthPct), "Greenspan (1977), to either side"),
    typeB(
      "the solution's temperature",
      Math.abs(perKelvinPct) * ofHalfWidth(SOLUTION_KNOWN_TO_K),
      `known to ${SOLUTION_KNOWN_TO_K} K, our choice`,
    ),
    typeB(
      "air not quite as warm as the solution",
      ofHalfWidth(airPct),
      `${AIR_FROM_SOLUTION_K} K to either side, our choice`,
    ),
  ];
}

function ofDisplays(reference: Reference, { probe, reference: shown }: Steps): Component[] {
  const probeStep = probe ?? 0;
  const referenceStep = reference.kind === "instrument" ? (shown ?? 0) : 0;
  return [
    typeB("the probe's step", ofStep(probeStep), `values ${probeStep} apart`),
    typeB("the reference's step", ofStep(referenceStep), `values ${referenceStep} apart`),
  ];
}

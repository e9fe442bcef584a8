import fc from "fast-check";
import { expect, test } from "vitest";
import {
  formatBand,
  formatTemperature,
  formatTemperatureDifference,
  fromCelsius,
  TEMPERATURE_UNITS,
  toCelsius,
} from "../../shared/units.js";

test("the fixed points of the scales", () => {
  // SI Brochure, 9th edition, section 2.3.1: 273.15 K is 0 °C by definition.
  expect(toCelsius(273.15, "K")).toBe(0);
  expect(toCelsius(0, "K")).toBe(-273.15);
  // NIST SP 811 (2008), B.8: 32 °F and 212 °F are 0 °C and 100 °C; −40 is the same on both.
  expect(toCelsius(32, "F")).toBe(0);
  expect(toCelsius(212, "F")).toBe(100);
  expect(toCelsius(-40, "F")).toBe(-40);
  expect(fromCelsius(100, "F")).toBe(212);
  expect(fromCelsius(0, "K")).toBe(273.15);
  expect(toCelsius(4.5, "C")).toBe(4.5);
});

test("there and back changes nothing that a sensor could show", () => {
  const temperatures = fc.double({ min: -273.15, max: 1000, noNaN: true });
  fc.assert(
    fc.property(temperatures, fc.constantFrom(...TEMPERATURE_UNITS), (temperatureC, unit) => {
      // Doubles near 1000 are spaced by 1e-13, and a conversion rounds at most four times.
      expect(toCelsius(fromCelsius(temperatureC, unit), unit)).toBeCloseTo(temperatureC, 11);
    }),
    { seed: 811 },
  );
});

test("a temperature is written with its unit and a true minus", () => {
  expect(formatTemperature(3.24, "C")).toBe("3.2 °C");
  expect(formatTemperature(-0.5, "C")).toBe("−0.5 °C");
  expect(formatTemperature(-0.04, "C")).toBe("0.0 °C");
  expect(formatTemperature(3.3, "F")).toBe("37.9 °F");
  expect(formatTemperature(3.256, "C", 2)).toBe("3.26 °C");
});

test("a difference scales but does not shift", () => {
  expect(formatTemperatureDifference(1, "F")).toBe("1.8 °F");
  expect(formatTemperatureDifference(1.5, "C")).toBe("1.5 °C");
  expect(formatTemperatureDifference(-2.5, "F")).toBe("−4.5 °F");
});

test("a band is written in words", () => {
  expect(formatBand({ low: 1.1, high: 3.3 }, "C")).toBe("1.1 to 3.3 °C");
  expect(formatBand({ low: 1.1, high: 3.3 }, "F")).toBe("34.0 to 37.9 °F");
  expect(formatBand({ low: -2, high: 0 }, "C", 0)).toBe("−2 to 0 °C");
});

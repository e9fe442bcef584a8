import { expect, test } from "vitest";
import { humidityFault, temperatureFault } from "../../shared/fault-value.js";
import { toCelsius } from "../../shared/units.js";

test("the two numbers of a DS18B20 are known by name, in whatever unit they came", () => {
  // Maxim, DS18B20 datasheet: the power-on reset value of the temperature register is +85 °C.
  expect(temperatureFault(85)).toBe("power-on");
  expect(temperatureFault(toCelsius(185, "F"))).toBe("power-on");
  expect(temperatureFault(toCelsius(358.15, "K"))).toBe("power-on");
  // −127 °C is what its common drivers return for a device that does not answer; common practice.
  expect(temperatureFault(-127)).toBe("bus-lost");
  expect(temperatureFault(toCelsius(-196.6, "F"))).toBe("bus-lost");
  // The register's next values beside 85 °C, 1/16 K away, are none of the two.
  expect(temperatureFault(85.0625)).toBe("too-warm");
});

test("what no fridge, room or winter was ever at is a fault; all that they are is none", () => {
  expect([70, 70.1, -70, -70.1].map(temperatureFault)).toEqual([
    null,
    "too-warm",
    null,
    "too-cold",
  ]);
  // Full registers: SHT4x, datasheet 2020: −45 + 175·S/65535; a 16-bit count of tenths.
  expect(temperatureFault(130)).toBe("too-warm");
  expect(temperatureFault(-3276.8)).toBe("too-cold");
  expect(temperatureFault(Number.NaN)).toBe("too-cold");
});

test("air has some water in it, and not much more than it can hold", () => {
  expect([0, 0.1, 100, 105, 105.1, -6, 119].map(humidityFault)).toEqual([
    "too-dry",
    null,
    null,
    null,
    "too-damp",
    // SHT4x, datasheet 2020: RH = −6 + 125·S/65535, so an empty register is −6, a full one 119.
    "too-dry",
    "too-damp",
  ]);
});

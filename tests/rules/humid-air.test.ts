import fc from "fast-check";
import { expect, test } from "vitest";
import { saturationPressureHpa, vapourPressureHpa } from "../../rules/humid-air.js";

// Saturation pressure over liquid water, Pa, by Wagner and Pruss (1993), IAPWS SR1-86; computed
// independently from its published coefficients.
const IAPWS_PA: readonly (readonly [temperatureC: number, pressurePa: number])[] = [
  [-5, 421.8112],
  [-2, 527.9124],
  [-1, 568.2093],
  [0, 611.2128],
  [0.01, 611.6571],
  [1, 657.0785],
  [1.1, 661.8286],
  [2, 705.9689],
  [3, 758.0543],
  [3.3, 774.3293],
  [4, 813.5127],
  [5, 872.5302],
  [6, 935.3012],
  [8, 1072.9239],
  [10, 1228.1122],
  [15, 1705.677],
  [20, 2339.1937],
];

const errorPct = (hpa: number, pa: number): number => Math.abs((hpa * 100) / pa - 1) * 100;

test("saturation pressure agrees with the steam-table standard in and about the fridge", () => {
  for (const [temperatureC, pressurePa] of IAPWS_PA) {
    // The Magnus form is known to be within 0.12 % of IAPWS at 0–5 °C, 0.3 % at −5–20 °C.
    const tolerancePct = temperatureC >= 0 && temperatureC <= 5 ? 0.12 : 0.3;
    const offPct = errorPct(saturationPressureHpa(temperatureC), pressurePa);
    expect(offPct, `${temperatureC} °C`).toBeLessThan(tolerancePct);
  }
});

test("saturation pressure agrees with the printed tables", () => {
  // ASHRAE Handbook – Fundamentals 2017, chapter 1, table 3: 872.6 Pa at 5 °C.
  expect(errorPct(saturationPressureHpa(5), 872.6)).toBeLessThan(0.12);
  // CRC Handbook of Chemistry and Physics, 1992–93, vapour pressure of water.
  for (const [temperatureC, pressurePa] of [
    [0, 611.29],
    [2, 706.05],
    [3, 758.13],
    [4, 813.59],
    [10, 1228.1],
    [20, 2338.8],
  ] as const)
    expect(
      errorPct(saturationPressureHpa(temperatureC), pressurePa),
      `${temperatureC} °C`,
    ).toBeLessThan(0.3);
});

test("vapour pressure below 0 °C is over liquid water, as sensors report humidity", () => {
  // IAPWS over liquid water: 0.9 × 527.9124 Pa at −2 °C; over ice it would be 465.93 Pa.
  expect(errorPct(vapourPressureHpa(-2, 90), 475.12117)).toBeLessThan(0.3);
  expect(errorPct(vapourPressureHpa(-2, 90), 465.9451)).toBeGreaterThan(1);
});

test("vapour pressure agrees with the steam-table standard at part humidity", () => {
  // IAPWS saturation pressure times relative humidity, computed independently, Pa.
  for (const [temperatureC, humidityPct, pressurePa] of [
    [3, 70, 530.63799],
    [2, 95, 670.67041],
    [20, 60, 1403.51624],
    [1.1, 80, 529.46291],
    [3.3, 60, 464.59759],
    [5, 90, 785.2772],
    [4, 85, 691.4858],
    [10, 50, 614.05608],
    [0, 75, 458.40963],
    [2, 30, 211.79066],
  ] as const)
    expect(
      errorPct(vapourPressureHpa(temperatureC, humidityPct), pressurePa),
      `${temperatureC} °C, ${humidityPct} %`,
    ).toBeLessThan(0.3);
});

test("dry air has no vapour, saturated air all of it, and warmer air holds more", () => {
  const temperature = fc.double({ min: -45, max: 59, noNaN: true });
  fc.assert(
    fc.property(temperature, (temperatureC) => {
      expect(vapourPressureHpa(temperatureC, 0)).toBe(0);
      expect(vapourPressureHpa(temperatureC, 100)).toBe(saturationPressureHpa(temperatureC));
      expect(saturationPressureHpa(temperatureC + 0.5)).toBeGreaterThan(
        saturationPressureHpa(temperatureC),
      );
    }),
    { seed: 3 },
  );
});

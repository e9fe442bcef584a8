import fc from "fast-check";
import { expect, test } from "vitest";
import {
  absoluteHumidityGPerM3,
  dewPointC,
  frostPointC,
  relativeHumidityPct,
  saturationPressureHpa,
  saturationPressureOverIceHpa,
  vapourDeficitHpa,
  vapourPressureHpa,
} from "../../rules/humid-air.js";

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

test("saturation pressure over ice agrees with the sublimation standard", () => {
  // IAPWS R14-08(2011), sublimation pressure of ice Ih, Pa; computed independently from its
  // published coefficients (its own check value, 8.94735 Pa at 230 K, is met by them).
  // The Magnus form over ice is known to be within 0.022 % of it from −20 to 0 °C.
  for (const [temperatureC, pressurePa] of [
    [-20, 103.239],
    [-10, 259.8738],
    [-5, 401.741],
    [-2, 517.7047],
    [-1, 562.6649],
    [0, 611.1535],
  ] as const)
    expect(
      errorPct(saturationPressureOverIceHpa(temperatureC), pressurePa),
      `${temperatureC} °C`,
    ).toBeLessThan(0.025);
});

test("humidity at a surface is the air's vapour over the surface's saturation", () => {
  // IAPWS saturation over water, computed independently: humidity at the surface, %.
  // Two saturation pressures, each within 0.3 % of IAPWS; in the fridge both within 0.12 %.
  for (const [airC, airPct, surfaceC, surfacePct] of [
    [20, 60, 3, 185.147],
    [20, 60, 2, 198.807],
    [22, 45, 2, 168.612],
    [20, 35, 2, 115.971],
    [20, 30, 3, 92.574],
    [18, 50, 8, 96.214],
    [3, 90, 1.5, 100.164],
    [3, 90, 1.6, 99.448],
    [10, 70, 4.76, 100.192],
  ] as const)
    expect(
      Math.abs(relativeHumidityPct(vapourPressureHpa(airC, airPct), surfaceC) / surfacePct - 1),
    ).toBeLessThan(airC <= 5 ? 0.0012 : 0.004);
});

test("dew and frost point agree with the steam-table standard", () => {
  // IAPWS over water and ice, solved for temperature; computed independently.
  for (const [airC, airPct, dewC, frostC] of [
    [1.1, 80, -1.96029, -1.73106],
    [3.3, 60, -3.71737, -3.28862],
    [5, 90, 3.49868, null],
    [4, 85, 1.71033, null],
    [22, 45, 9.53479, null],
    [2, 60, -4.94469, -4.3793],
    [10, 50, 0.06389, null],
    [0, 75, -3.8962, -3.4474],
    [2, 30, -13.76571, -12.28419],
  ] as const) {
    // The Magnus form's 0.3 % of pressure is some 0.05 °C of dew point.
    expect(Math.abs(dewPointC(airC, airPct) - dewC), `${airC} °C, ${airPct} %`).toBeLessThan(0.05);
    const frost = frostPointC(airC, airPct);
    if (frostC === null) expect(frost).toBeNull();
    else expect(Math.abs(frost! - frostC), `${airC} °C, ${airPct} %`).toBeLessThan(0.02);
  }
});

test("saturated air is at its own dew point, and no dew point lies above the air", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -45, max: 60, noNaN: true }),
      fc.double({ min: 0.1, max: 100, noNaN: true }),
      (airC, airPct) => {
        expect(dewPointC(airC, 100)).toBeCloseTo(airC, 9);
        const dewC = dewPointC(airC, airPct);
        expect(dewC).toBeLessThanOrEqual(airC);
        const hpa = vapourPressureHpa(airC, airPct);
        expect(relativeHumidityPct(hpa, dewC)).toBeCloseTo(100, 6);
        // Frost comes before dew as air cools below 0 °C (WMO-No. 8, 4.B).
        const frostC = frostPointC(airC, airPct);
        if (frostC !== null) expect(frostC).toBeGreaterThanOrEqual(dewC - 1e-9);
      },
    ),
    { seed: 31 },
  );
});

test("dew and frost point refuse what is no air", () => {
  for (const [airC, airPct] of [
    [-45.1, 50],
    [60.1, 50],
    [Number.NaN, 50],
    [2, 0],
    [2, 100.1],
    [2, Number.NaN],
  ] as const) {
    expect(() => dewPointC(airC, airPct)).toThrow(RangeError);
    expect(() => frostPointC(airC, airPct)).toThrow(RangeError);
  }
});

test("absolute humidity agrees with the steam-table standard and the gas law", () => {
  // IAPWS vapour pressure over R_v·T, computed independently, g/m³.
  for (const [airC, airPct, gPerM3] of [
    [1.1, 80, 4.18307],
    [3.3, 100, 6.06898],
    [3.3, 60, 3.64139],
    [5, 90, 6.11717],
    [22, 45, 8.73853],
    [10, 50, 4.69892],
    [0, 75, 3.63629],
    [2, 30, 1.6678],
  ] as const)
    expect(
      Math.abs(absoluteHumidityGPerM3(vapourPressureHpa(airC, airPct), airC) / gPerM3 - 1),
    ).toBeLessThan(0.003);
});

test("the deficit is what saturation lacks, and nothing where the surface is wet", () => {
  // IAPWS, computed independently, hPa: 20 °C at 60 % has 935.52 Pa left by ASHRAE's formula.
  for (const [airC, airPct, deficitHpa] of [
    [1.1, 80, 1.3236573],
    [3.3, 60, 3.0973173],
    [5, 90, 0.8725302],
    [20, 60, 9.355],
  ] as const)
    expect(
      Math.abs(vapourDeficitHpa(vapourPressureHpa(airC, airPct), airC) / deficitHpa - 1),
    ).toBeLessThan(0.003);
  expect(vapourDeficitHpa(vapourPressureHpa(20, 60), 3)).toBe(0);
  expect(vapourDeficitHpa(0, 0)).toBe(6.112);
});

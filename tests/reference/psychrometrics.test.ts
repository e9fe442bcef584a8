import psychrolib from "psychrolib";
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

// PsychroLib 2.5.0 (npm psychrolib 1.1.1): ASHRAE Handbook – Fundamentals 2017, chapter 1, after
// Hyland and Wexler (1983). Two of its ways must be minded: at or below 0.01 °C it takes saturation
// over ice, so that its relative humidity there is not what a sensor reports; and its dew point is
// the frost point wherever that is below 0.01 °C.
psychrolib.SetUnitSystem(psychrolib.SI);

const SEA_LEVEL_PA = 101_325;
/** Above this psychrolib's saturation is over water. */
const OVER_WATER_FROM_C = 0.01;

// Both formulae against IAPWS R7-97 and SR1-86, computed independently from all three. Magnus over
// water, as WMO-No. 8 has it: 0.28 % at 20 °C, 0.29 % at 25 °C, less below. Over ice: 0.022 %.
// Hyland and Wexler: 0.02 % over water, 0.03 % over ice. So they may differ by the sum.
const WATER_PCT = 0.29 + 0.02;
const ICE_PCT = 0.022 + 0.03;
// A dew point moves by a kelvin for 6 to 8 % of pressure, 5 to 20 °C below the air; in much drier
// air, and with the pressure of the air itself, the two errors do not cancel: 0.05 K.
const DEW_K = 0.05;
const FROST_K = 0.01;

const offPct = (a: number, b: number): number => Math.abs(a / b - 1) * 100;

const GRID = Array.from({ length: 31 }, (_, i) => i - 5).flatMap((airC) =>
  Array.from({ length: 20 }, (_, i) => ({ airC, pct: 5 * (i + 1) })),
);
const WARM = GRID.filter(({ airC }) => airC > OVER_WATER_FROM_C);

test("the grid is that of a fridge, its frost and its room", () => {
  expect(GRID).toHaveLength(31 * 20);
  expect(WARM).toHaveLength(25 * 20);
});

test("saturation pressure over water and ice", () => {
  for (const { airC } of GRID) {
    const pa = psychrolib.GetSatVapPres(airC);
    if (airC > OVER_WATER_FROM_C)
      expect(offPct(100 * saturationPressureHpa(airC), pa), `${airC} °C`).toBeLessThan(WATER_PCT);
    else
      expect(offPct(100 * saturationPressureOverIceHpa(airC), pa), `${airC} °C`).toBeLessThan(
        ICE_PCT,
      );
  }
});

test("saturation pressure over water in the band of the trade, where it matters most", () => {
  // IAPWS against Magnus there: 0.06 % at 3.3 °C.
  for (let c = 1.1; c <= 3.3; c += 0.1)
    expect(offPct(100 * saturationPressureHpa(c), psychrolib.GetSatVapPres(c))).toBeLessThan(0.08);
});

test("vapour pressure, absolute humidity and deficit of air above freezing", () => {
  for (const { airC, pct } of WARM) {
    const at = `${airC} °C, ${pct} %`;
    const pa = psychrolib.GetVapPresFromRelHum(airC, pct / 100);
    const hpa = vapourPressureHpa(airC, pct);
    expect(offPct(100 * hpa, pa), at).toBeLessThan(WATER_PCT);
    const ratio = psychrolib.GetHumRatioFromVapPres(pa, SEA_LEVEL_PA);
    const perM3 = (1000 * ratio) / psychrolib.GetMoistAirVolume(airC, ratio, SEA_LEVEL_PA);
    // Its constants of the gases are rounded: 0.621945 and 287.042, a further 0.01 %.
    expect(offPct(absoluteHumidityGPerM3(hpa, airC), perM3), at).toBeLessThan(WATER_PCT + 0.01);
    const deficitPa = psychrolib.GetVaporPressureDeficit(airC, ratio, SEA_LEVEL_PA);
    expect(Math.abs(100 * vapourDeficitHpa(hpa, airC) - deficitPa), at).toBeLessThan(
      (deficitPa * WATER_PCT) / 100 + 1e-6,
    );
  }
});

test("dew point where dew comes first, frost point where frost does", () => {
  let dews = 0;
  let frosts = 0;
  for (const { airC, pct } of WARM) {
    const at = `${airC} °C, ${pct} %`;
    const pa = psychrolib.GetVapPresFromRelHum(airC, pct / 100);
    const pointC = psychrolib.GetTDewPointFromVapPres(airC, pa);
    if (pointC > 0.1) {
      expect(Math.abs(dewPointC(airC, pct) - pointC), at).toBeLessThan(DEW_K);
      expect(frostPointC(airC, pct), at).toBeNull();
      dews++;
    } else if (pointC < -0.1) {
      expect(Math.abs(frostPointC(airC, pct)! - pointC), at).toBeLessThan(DEW_K);
      frosts++;
    }
  }
  expect(dews).toBeGreaterThan(150);
  expect(frosts).toBeGreaterThan(150);
});

test("frost point of air below freezing, by the vapour it holds", () => {
  for (const { airC, pct } of GRID.filter((g) => g.airC <= 0)) {
    // A sensor's humidity over water may pass saturation over ice: that air has frosted already.
    const pa = 100 * vapourPressureHpa(airC, pct);
    if (pa > psychrolib.GetSatVapPres(airC)) continue;
    const pointC = psychrolib.GetTDewPointFromVapPres(airC, pa);
    expect(Math.abs(frostPointC(airC, pct)! - pointC), `${airC} °C, ${pct} %`).toBeLessThan(
      FROST_K,
    );
  }
});

test("humidity at cocoons colder or warmer than the air", () => {
  for (const { airC, pct } of WARM)
    for (const cocoonC of [0.5, 1.1, 3.3, 7, 12]) {
      const pa = psychrolib.GetVapPresFromRelHum(airC, pct / 100);
      const theirs = (100 * pa) / psychrolib.GetSatVapPres(cocoonC);
      const ours = relativeHumidityPct(vapourPressureHpa(airC, pct), cocoonC);
      // Errors at two temperatures have the same sign: their difference is below the larger one.
      expect(offPct(ours, theirs), `${airC} °C, ${pct} %, ${cocoonC} °C`).toBeLessThan(WATER_PCT);
    }
});

test("the printed saturation table over ice", () => {
  // ASHRAE Handbook – Fundamentals 2017, chapter 1, table 3: Pa, over ice.
  expect(offPct(100 * saturationPressureOverIceHpa(-20), 103.24)).toBeLessThan(ICE_PCT);
  expect(offPct(100 * saturationPressureOverIceHpa(-5), 401.74)).toBeLessThan(ICE_PCT);
});

import { expect, test } from "vitest";
import {
  beginProbe,
  followProbe,
  type ProbeSetup,
  speakProbe,
} from "../../../sensors/simulated/probe.js";
import { seeded } from "../../../sensors/simulated/seeded.js";
import { BARE, DRY_ROOM, dryChamber } from "./bare-fridge.js";

const SETUP: ProbeSetup = {
  id: "shed-air",
  place: "air",
  humidity: true,
  intervalS: 60,
  lagS: 120,
  noiseK: 0.05,
  wanderK: 0.1,
  humidityNoisePct: 0.5,
  offsetK: 0,
  humidityOffsetPct: 0,
  lossShare: 0.02,
};

test("a probe's element has gone 63.2 % of a step after its lag", () => {
  // 1 - e^(-1) = 0.6321206 (first-order lag, closed form).
  const probe = beginProbe(SETUP, 2, 0, 5, seeded(1, "probe"));
  const chamber = dryChamber(12);
  for (let s = 0; s < SETUP.lagS; s += 5) followProbe(probe, chamber, BARE, DRY_ROOM);
  expect(probe.elementC).toBeCloseTo(2 + 10 * 0.6321206, 2);
});

test("readings come in tenths, humidity from 0 to 100, and a fiftieth are lost", () => {
  const probe = beginProbe(SETUP, 2, 0.0056, 5, seeded(7, "probe"));
  let lost = 0;
  const odd: unknown[] = [];
  const count = 20_000;
  for (let i = 0; i < count; i++) {
    const said = speakProbe(probe, probe.dueS, i);
    if (said.lost) lost++;
    const { temperatureC, humidityPct } = said.reading;
    const inTenths = [temperatureC!, humidityPct!].every((v) => Math.round(v * 10) / 10 === v);
    if (!inTenths || humidityPct! < 0 || humidityPct! > 100) odd.push(said.reading);
  }
  expect(odd).toEqual([]);
  // Binomial: 400 ± 20 in standard deviation; five of them either way.
  expect(Math.abs(lost - 400)).toBeLessThan(100);
});

test("a cold element in fresh warm air reads damper than the air is", () => {
  const probe = beginProbe({ ...SETUP, noiseK: 0, wanderK: 0 }, 2, 0.003, 5, seeded(1, "probe"));
  const chamber = { ...dryChamber(15), airVapour: 0.0075 };
  for (let i = 0; i < 6; i++) followProbe(probe, chamber, BARE, DRY_ROOM);
  // 7.5 g/m³ is 58 % at 15 °C; an element still near 4 °C is close to its dew point.
  expect(speakProbe(probe, 30, 0).reading.humidityPct).toBeGreaterThan(90);
});

test("a temperature-only probe says nothing of humidity", () => {
  const probe = beginProbe({ ...SETUP, humidity: false }, 2, 0.004, 5, seeded(1, "probe"));
  expect(speakProbe(probe, 60, 0).reading.humidityPct).toBeNull();
});

test("readings keep their interval over a day, each a little early or late", () => {
  const probe = beginProbe(SETUP, 2, 0.004, 5, seeded(3, "probe"));
  const dues: number[] = [];
  for (let i = 0; i < 1_440; i++) {
    dues.push(probe.dueS);
    speakProbe(probe, probe.dueS, 0);
  }
  const gaps = dues.slice(1).map((d, i) => d - dues[i]!);
  expect(Math.min(...gaps)).toBeGreaterThan(55.9);
  expect(Math.max(...gaps)).toBeLessThan(64.1);
  expect((dues.at(-1)! - dues[0]!) / 1_439).toBeCloseTo(60, 1);
});

import { expect, test } from "vitest";
import { readTypedNumber, stepAsTyped } from "../../../daemon/checks/typed-number.js";

const value = (text: string, unit: "C" | "F" = "C") =>
  readTypedNumber(text, "temperature", "value", unit)?.value;

test("a temperature may name its unit, and is the keeper's else", () => {
  // °F = 32 + 1.8 °C: NIST SP 811 (2008), appendix B.8.
  expect(value("2.3")).toBe(2.3);
  expect(value("36.5", "F")).toBeCloseTo(2.5, 12);
  expect(value("36.5 °F")).toBeCloseTo(2.5, 12);
  expect(value("2.5C", "F")).toBe(2.5);
  expect(value("−0,4")).toBe(-0.4);
});

test("a difference has no zero, so 1.8 °F of it are 1 K", () => {
  const difference = (text: string) => readTypedNumber(text, "temperature", "difference")?.value;
  expect(difference("0.9 F")).toBeCloseTo(0.5, 12);
  expect(difference("0.5 K")).toBe(0.5);
});

test("humidity is in per cent and nothing else", () => {
  const humidity = (text: string) => readTypedNumber(text, "humidity", "value");
  expect(["75", "75 %", "75%RH"].map((text) => humidity(text)?.value)).toEqual([75, 75, 75]);
  expect(humidity("75 F")).toBeNull();
});

test.each(["", "warm", "2.3.4", "2 %", "275 K", "1e", "C"])("%j is no temperature", (text) => {
  expect(value(text)).toBeUndefined();
});

test("the step is that of the finest number written", () => {
  expect(stepAsTyped(["2", "2.1", "2.15"])).toBe(0.01);
  expect(stepAsTyped(["2", "3"])).toBe(1);
  expect(readTypedNumber("36.5", "temperature", "value", "F")?.step).toBeCloseTo(0.1 / 1.8, 12);
});

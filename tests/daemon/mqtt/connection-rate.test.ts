import { expect, test } from "vitest";
import { ConnectionRate } from "../../../daemon/mqtt/connection-rate.js";

test("an address that connects all the time is bounded, another is not, and it may again later", () => {
  const rate = new ConnectionRate();
  const admitted = Array.from({ length: 500 }, () => rate.admits("192.0.2.7", 1_000));
  expect(admitted.filter(Boolean)).toHaveLength(60);
  expect(rate.admits("192.0.2.8", 1_001)).toBe(true);
  expect(rate.admits("192.0.2.7", 11_000)).toBe(true);
});

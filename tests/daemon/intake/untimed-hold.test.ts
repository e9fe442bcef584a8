import { expect, test } from "vitest";
import { UntimedHold } from "../../../daemon/intake/untimed-hold.js";

const untimed = (monotonicMs: number, acknowledge: (() => void) | null = null) => ({
  probeId: "air",
  temperatureC: 2,
  humidityPct: null,
  monotonicMs,
  acknowledge,
});

test("what waited is dated back from the clock that has been set", () => {
  const hold = new UntimedHold();
  hold.hold(untimed(5_000));
  hold.hold(untimed(-30_000));
  const nowMs = Date.UTC(2026, 0, 1);
  const dated = hold.stamp(nowMs, 65_000).map(({ reading }) => reading.takenAtMs);
  expect(dated).toEqual([nowMs - 60_000, nowMs - 95_000]);
  expect(hold.count).toEqual({ held: 0, dropped: 0 });
});

test("it holds 10,000 and drops the oldest, unacknowledged and counted", () => {
  const hold = new UntimedHold();
  let acknowledged = 0;
  for (let i = 0; i < 10_500; i++)
    hold.hold(
      untimed(i, () => {
        acknowledged += 1;
      }),
    );
  expect(hold.count).toEqual({ held: 9_500, dropped: 1_000 });
  expect(hold.stamp(Date.UTC(2026, 0, 1), 0)[0]!.reading.takenAtMs).toBe(
    Date.UTC(2026, 0, 1) + 1_000,
  );
  expect(acknowledged).toBe(0);
});

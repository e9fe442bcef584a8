import { expect, test } from "vitest";
import { readBattery } from "../../../daemon/probes/battery.js";
import { doubtSentences } from "../../../daemon/probes/probe-words.js";
import { gatherProbes, lastWeek } from "../../../daemon/probes/standing.js";
import { DAY_MS, MINUTE_MS } from "../../../shared/time.js";
import { openRig, SITE } from "./rig.js";

const SOURCE = {
  probeId: "shed-air",
  topic: "quillmere/shed/+",
  payload: "json",
  temperature: "/t",
  humidity: null,
  time: null,
  unit: "C",
  quantity: "temperature",
  battery: { at: "/left", unit: "%", low: null },
} as const;

test("what a probe says of its battery is kept, and asks for a new one once it is low", () => {
  const rig = openRig(undefined, { sources: [SOURCE] });
  const levels: (number | undefined)[] = [];
  const tell = (left: number) => {
    rig.publish({ t: 2.2, left });
    rig.intake.flush();
    levels.push(readBattery(rig.store, "shed-air")?.value);
    rig.clock.move(MINUTE_MS);
  };
  for (const left of [21, 20.4, 20, 19.9, 19.8]) tell(left);
  // Less than one per cent is not worth a write, unless it makes the difference.
  expect(levels).toEqual([21, 21, 20, 19.9, 19.9]);
  const nowMs = rig.clock.nowMs();
  const [standing] = gatherProbes(rig.store, SITE, nowMs, lastWeek(nowMs));
  expect(doubtSentences(standing!, { unit: "C", timezone: "Europe/London", nowMs })).toEqual([
    "Its battery is low: on 15 January 2026 it had 19.9 %, and below 20 % it is time to change it.",
  ]);
  rig.clock.move(DAY_MS);
  tell(19.8);
  expect(levels.at(-1)).toBe(19.8);
});

test("a message of a battery alone is acknowledged and makes no reading", () => {
  const rig = openRig(undefined, { sources: [SOURCE] });
  expect(rig.publish({ left: 50 }).acknowledged).toBe(1);
  expect(rig.store.readings.latest("shed-air")).toBeNull();
});

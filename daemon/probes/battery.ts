import { z } from "zod";
import { BATTERY_UNITS, type BatterySaid } from "../../sensors/battery.js";
import type { Store } from "../store/store.js";

/** What a probe last said of its battery, as it was noted. */
export type BatteryNoted = BatterySaid & Readonly<{ atMs: number }>;

const NOTED = z.object({
  value: z.number(),
  unit: z.enum(BATTERY_UNITS),
  low: z.number(),
  atMs: z.number(),
});

/** The fact of the board under which it is kept. */
export const batteryKey = (probeId: string): string => `battery ${probeId}`;

/** Whether it asks to be changed. */
export const isLow = ({ value, low }: BatterySaid): boolean => value < low;

/** What is known of a probe's battery; null where it never said anything. */
export function readBattery({ board }: Pick<Store, "board">, probeId: string): BatteryNoted | null {
  const fact = board.read(batteryKey(probeId));
  if (fact === null) return null;
  try {
    return NOTED.parse(JSON.parse(fact));
  } catch {
    return null;
  }
}

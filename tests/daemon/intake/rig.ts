import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Clock } from "../../../daemon/clock.js";
import { Intake, type IntakePorts } from "../../../daemon/intake/intake.js";
import { composeLetter } from "../../../daemon/letters/compose.js";
import { arrivalOf } from "../../../daemon/mqtt/arrival-desk.js";
import { openStore, type Store } from "../../../daemon/store/store.js";
import type { Site } from "../../../shared/site.js";
import { openMemoryLog } from "../mqtt/desk.js";

export const SITE: Site = {
  name: "Quillmere",
  timezone: "Europe/London",
  chambers: [
    {
      id: "shed",
      species: "osmia-bicornis",
      bandC: { low: 1.1, high: 3.3 },
      humidityBandPct: { low: 60, high: 70 },
      cocoonLagMs: null,
    },
  ],
  probes: [{ id: "shed-air", chamberId: "shed", place: "air", intervalMs: 60_000 }],
};

const SOURCE = {
  probeId: "shed-air",
  topic: "quillmere/shed/+",
  payload: "json",
  temperature: "/t",
  humidity: null,
  time: "/at",
  unit: "C",
  quantity: "temperature",
} as const;

/** A clock that stands until it is moved. Only the steady one knows fractions of a millisecond. */
function openHandClock(nowMs: number): Clock & { move(ms: number): void; set(ms: number): void } {
  let [wallMs, monotonicMs] = [nowMs, 1_000.25];
  return {
    nowMs: () => wallMs,
    monotonicMs: () => monotonicMs,
    move: (ms) => {
      wallMs += ms;
      monotonicMs += ms + 0.125;
    },
    set: (ms) => {
      wallMs = ms;
    },
  };
}

/** An intake on a real store in a folder of its own. */
export function openRig(nowMs = Date.UTC(2026, 0, 15, 12), more: Partial<IntakePorts> = {}) {
  const folder = mkdtempSync(join(tmpdir(), "drowse-intake-"));
  const clock = openHandClock(nowMs);
  const log = openMemoryLog();
  const woken = { letters: 0, room: 0 };
  let store = openStore(folder, SITE);
  let life = 0;
  // A store whose disk is full cannot be ordered up, so that one method of it can be made to fail.
  const failing = { with: null as Error | null };
  const guarded = (): Store => {
    const ownLife = life;
    return {
      ...store,
      commit: (batch, keepers) => {
        // The dead commit nothing, though their timers still run here.
        if (ownLife !== life) return;
        if (failing.with !== null) throw failing.with;
        store.commit(batch, keepers);
      },
    };
  };
  const start = (site = SITE) =>
    new Intake({
      site,
      sources: [SOURCE],
      keepers: ["keeper@example.org"],
      store: guarded(),
      clock,
      log,
      groupCount: 32,
      groupMs: 60_000,
      compose: (finding, earlier) =>
        composeLetter(finding, { site: SITE, temperatureUnit: "C", earlier, trouble: null }),
      onGroup: () => {},
      onLetters: () => {
        woken.letters += 1;
      },
      onDamaged: () => {},
      onClockSet: () => {},
      onStranded: () => {},
      onStored: () => {},
      onRoom: () => {
        woken.room += 1;
      },
      ...more,
    });
  let intake = start();
  const publish = (payload: unknown, topic = "quillmere/shed/air") => {
    const message = { acknowledged: 0 };
    const ownLife = life;
    const bytes = Buffer.from(typeof payload === "string" ? payload : JSON.stringify(payload));
    intake.take(arrivalOf(clock, topic, bytes, false), () => {
      if (ownLife === life) message.acknowledged += 1;
    });
    return message;
  };
  return {
    clock,
    log,
    woken,
    failing,
    publish,
    get intake() {
      return intake;
    },
    get store() {
      return store;
    },
    /** As after a power cut: what was not committed is gone. */
    restart: (site = SITE) => {
      store.close();
      life += 1;
      store = openStore(folder, site);
      intake = start(site);
    },
    stored: () => [...store.readings.between("shed-air", 0, Number.MAX_SAFE_INTEGER)],
    close: () => {
      store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import mqtt from "mqtt";
import { afterEach, describe, expect, test } from "vitest";
import { showStanding } from "../../daemon/cli/now/show.js";
import { gatherStanding } from "../../daemon/cli/now/standing.js";
import { type Config, loadConfig } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { gatherProbes, lastWeek } from "../../daemon/probes/standing.js";
import { openStore } from "../../daemon/store/store.js";
import { PLAIN, writeFiles } from "../daemon/config/written-config.js";
import { openMemoryLog } from "../daemon/mqtt/desk.js";
import { noMosquitto, openMosquitto } from "../daemon/mqtt/mosquitto.js";
import { until } from "../daemon/mqtt/until.js";

const DEADLINE_MS = 60_000;
const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

/** All of Drowse on an outside broker, by a clock that hours can be added to. */
async function keepOn(url: string) {
  const folder = writeFiles({
    "drowse.toml": PLAIN.replace('embedded = "127.0.0.1:0"', `url = "${url}"`),
  });
  const config = loadConfig(join(folder, "drowse.toml"));
  let aheadMs = 0;
  const clock = {
    nowMs: () => Date.now() + aheadMs,
    monotonicMs: () => performance.now() + aheadMs,
  };
  const log = openMemoryLog();
  const keeping = await startKeep(config, { clock, log });
  closes.push(() => keeping.close());
  const addHours = (hours: number) => {
    aheadMs += hours * 3_600_000;
  };
  return { config, log, addHours, clock };
}

/** What `drowse now` prints. */
function now({ store: { folder }, site }: Config, nowMs: number): string {
  const store = openStore(folder, site, { mode: "look" });
  try {
    const probes = gatherProbes(store, site, nowMs, lastWeek(nowMs));
    return showStanding(gatherStanding(store, site, nowMs), probes, site, "C");
  } finally {
    store.close();
  }
}

function subjects({ store: { folder: state } }: Config): string[] {
  const folder = join(state, "letters");
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder, { withFileTypes: true, recursive: true });
  const letters = files.filter((file) => file.isFile() && file.name.endsWith(".eml"));
  const names = letters.map((file) => join(file.parentPath, file.name));
  return names.map((name) => /^Subject: (.*)$/m.exec(readFileSync(name, "utf8"))?.[1] ?? "").sort();
}

const heard = (config: Config) => {
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  try {
    return store.readings.count();
  } finally {
    store.close();
  }
};

describe.skipIf(noMosquitto !== false)("a broker that is gone for hours", () => {
  test(
    "is said at once by now and the log, by letter once the probe is silent, and so is its return",
    async () => {
      const mosquitto = await openMosquitto();
      closes.push(() => mosquitto.close());
      const { config, log, addHours, clock } = await keepOn(`mqtt://127.0.0.1:${mosquitto.port}`);
      await until("it has subscribed", () =>
        log.lines.some((line) => line.startsWith("subscribed")),
      );
      const speak = async () => {
        const { port } = mosquitto;
        const sensor = await mqtt.connectAsync({ host: "127.0.0.1", port });
        await sensor.publishAsync("quillmere/shed/air", "2.4", { qos: 1 });
        await sensor.endAsync();
      };
      await speak();
      await until("its reading is stored", () => heard(config) > 0, DEADLINE_MS);
      expect(now(config, clock.nowMs())).not.toContain("does not work");

      await mosquitto.stop();
      const saysSo = () => now(config, clock.nowMs()).includes("The broker does not work");
      await until("now says so", saysSo, DEADLINE_MS);
      addHours(3);
      await until("a letter is written", () => subjects(config).length === 1, DEADLINE_MS);
      expect(subjects(config)[0]).toMatch(/shed-air|silent/);
      expect(now(config, clock.nowMs())).toMatch(/probe-mute/);
      const losses = log.lines.filter((line) => line.includes("BROKER_UNREACHABLE"));
      expect(losses.length).toBeLessThanOrEqual(2);

      await mosquitto.start();
      await until("now says it works", () => !saysSo(), DEADLINE_MS);
      await speak();
      // The silence ends when the moment of the reading is over.
      addHours(0.02);
      await until("its end is written", () => subjects(config).length === 2, DEADLINE_MS);
      expect(now(config, clock.nowMs())).toContain("Nothing is open.");
    },
    4 * DEADLINE_MS,
  );
});

test("without a name server it keeps trying, and now says what is amiss", async () => {
  // RFC 2606, section 2: no name under .invalid is ever known.
  const { config, log, clock } = await keepOn("mqtt://broker.quillmere.invalid:1883");
  await until("it is said", () => log.lines.some((line) => line.includes("BROKER_UNREACHABLE")));
  const said = log.lines.join("\n");
  expect(said).toMatch(/its name is unknown|no name server answers/);
  expect(now(config, clock.nowMs())).toMatch(/The broker does not work.*\n.*quillmere\.invalid/);
});

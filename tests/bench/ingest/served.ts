import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Aedes } from "aedes";
import Database from "better-sqlite3";
import type { Clock } from "../../../daemon/clock.js";
import type { Config } from "../../../daemon/config.js";
import { startKeep } from "../../../daemon/keep.js";
import { YEAR_RULES } from "../../year-rules.js";
import { FROM_MS, PROBE_IDS, STEP_MS, topicOf } from "./series.js";

/*
 * One of three processes to compare, named by the argument: `keep`, all of Drowse; `bare`, the
 * same broker with an empty handler; `idle`, the same libraries loaded and nothing done. Tells
 * its port, and when asked its resident memory.
 */

const LOG = { info: () => {}, warn: () => {}, error: (...all: unknown[]) => console.error(...all) };

/**
 * The readings carry their own time, and are to be judged as they come and not as a backlog. So
 * this clock moves on with them: by one reading each time a message asks it for the time. To
 * Drowse the board has slept in between, for that is how such a clock looks that nobody set.
 */
function clockOfSeries(): Clock {
  let asked = 0;
  const passedMs = () => Math.round(STEP_MS * asked);
  return {
    nowMs: () => {
      asked += 1;
      return FROM_MS + passedMs();
    },
    monotonicMs: () => performance.now(),
    uptimeMs: () => performance.now() + passedMs(),
  };
}

function configIn(folder: string): Config {
  const chamber = (id: string) => ({
    id,
    species: "osmia-bicornis",
    bandC: { low: 1.1, high: 3.3 },
    humidityBandPct: { low: 60, high: 70 },
    cocoonLagMs: null,
  });
  const places = ["air", "box", "wall", "air", "box", "outdoors"] as const;
  return {
    file: join(folder, "drowse.toml"),
    site: {
      name: "Quillmere",
      timezone: "Europe/London",
      chambers: [chamber("shed"), chamber("attic")],
      probes: PROBE_IDS.map((id, i) => ({
        id,
        chamberId: [null, "shed", "attic"][places[i] === "outdoors" ? 0 : i < 3 ? 1 : 2]!,
        place: places[i]!,
        intervalMs: 10_000,
      })),
    },
    care: [],
    sources: PROBE_IDS.map((id) => ({
      probeId: id,
      topic: topicOf(id),
      payload: "json" as const,
      temperature: "/t",
      humidity: "/h",
      time: "/at",
      unit: "C" as const,
      quantity: "temperature" as const,
    })),
    temperatureUnit: "C",
    keepers: ["keeper@example.org"],
    broker: {
      kind: "embedded",
      host: "127.0.0.1",
      port: 0,
      user: null,
      password: null,
      sensors: [],
      hashesFile: null,
      tls: null,
      stateTopic: null,
    },
    heartbeat: null,
    store: {
      folder,
      groupCount: 32,
      groupMs: 60_000,
      keepReadingsDays: null,
      copiesFolder: folder,
      copyTime: null,
    },
    mail: null,
    digest: { weekday: 0, time: "07:00" },
    page: null,
    ...YEAR_RULES,
  };
}

async function openBare(): Promise<number> {
  const broker = await Aedes.createBroker();
  const server = createServer({ noDelay: true }, broker.handle);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return (server.address() as { port: number }).port;
}

async function openKeep(): Promise<number> {
  const folder = mkdtempSync(join(process.env.DROWSE_BENCH_FOLDER ?? tmpdir(), "drowse-bench-"));
  process.once("exit", () => rmSync(folder, { recursive: true, force: true }));
  const keeping = await startKeep(configIn(folder), { clock: clockOfSeries(), log: LOG });
  return keeping.port!;
}

const kind = process.argv[2];
// Its native part is loaded with the first database only.
if (kind === "idle") new Database(":memory:").close();
const port = kind === "keep" ? await openKeep() : kind === "bare" ? await openBare() : 0;
process.on("message", () => process.send?.({ rssBytes: process.memoryUsage.rss() }));
process.once("disconnect", () => process.exit(0));
process.send?.({ port });

import { existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { expect, test } from "vitest";
import { loadConfig } from "../../../daemon/config.js";
import { type Running, runDrowse, startDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const LISTENING = /"port":(\d+),"msg":"listening for sensors"/;

async function portOf(keep: Running): Promise<number> {
  return Number((await keep.untilPrints(LISTENING))[1]);
}

/** Publish at QoS 1; resolves once each message is acknowledged, which is after its commit. */
async function publish(port: number, messages: readonly [string, string][]): Promise<void> {
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`);
  for (const [topic, payload] of messages) await client.publishAsync(topic, payload, { qos: 1 });
  await client.endAsync();
}

const JSON_PROBE = PLAIN.replace(
  'payload = "number"',
  'payload = "json"\ntemperature = "/t"\nhumidity = "/h"\ntime = "/at"',
);

const TIMES = ["2026-01-11T00:30:00Z", "2026-01-11T00:31:00Z", "2026-01-12T12:00:00Z"];
const MESSAGES = TIMES.map((at, i): [string, string] => [
  "quillmere/shed/air",
  JSON.stringify({ t: 2 + i, h: i === 1 ? undefined : 60 + i, at }),
]);

test("what a sensor published is exported, shown and listed; a signal ends it with 0", async () => {
  const folder = writeFiles({ "drowse.toml": JSON_PROBE });
  const keep = startDrowse(["keep"], folder);
  const port = await portOf(keep);
  await publish(port, [
    ...MESSAGES,
    ["quillmere/shed/air", "not json"],
    ["quillmere/porch", '{"temperature": 4.5, "humidity": 81}'],
  ]);
  keep.child.kill("SIGTERM");
  expect((await keep.ended).code).toBe(0);

  const csv = await runDrowse(["readings"], folder);
  // RFC 4180, section 2: CRLF; an empty cell is "not measured".
  expect(csv.stdout).toBe(
    [
      "time,probe,temperature_c,humidity_pct",
      "2026-01-11T00:30:00Z,shed-air,2,60",
      "2026-01-11T00:31:00Z,shed-air,3,",
      "2026-01-12T12:00:00Z,shed-air,4,62",
      "",
    ].join("\r\n"),
  );

  const part = ["readings", "--probe", "shed-air", "--from", "2026-01-11", "--to", "2026-01-12"];
  const json = await runDrowse([...part, "--json"], folder);
  const lines = json.stdout.trimEnd().split("\n");
  expect(lines.map((line) => JSON.parse(line).at)).toEqual(TIMES.slice(0, 2));

  const now = JSON.parse((await runDrowse(["now", "--json"], folder)).stdout);
  expect(now.probes).toEqual([
    {
      id: "shed-air",
      heardAt: TIMES[2],
      temperatureC: 4,
      humidityPct: 62,
      asSent: { temperatureC: 4, humidityPct: 62 },
      added: { temperature: null, humidity: null },
      // Nothing was promised for the last days, since nothing was heard in them.
      heardShare: null,
      checkedAt: null,
      checkDueAt: null,
      isCheckOverdue: false,
      drifted: [],
      battery: null,
    },
  ]);
  // The second message had no humidity, and the last but one nothing.
  expect(now.unread).toEqual({ "not-json": 1, "pointer-missing": 1, unclaimed: 1 });
  expect(now.chambers[0]).toMatchObject({ id: "shed", airC: expect.any(Number) });

  const heard = (await runDrowse(["hear"], folder)).stdout;
  expect(heard).toMatch(/quillmere\/shed\/air +shed-air +reading +3/);
  expect(heard).toMatch(/quillmere\/shed\/air +shed-air +not-json +1/);
  // The entry, pasted and filled in, is a config that Drowse takes.
  const entry = /\[\[probe\]\][\s\S]*/.exec(heard)![0].replace('chamber = ""', 'chamber = "shed"');
  writeFileSync(join(folder, "pasted.toml"), `${JSON_PROBE}\n${entry}`);
  expect(loadConfig(join(folder, "pasted.toml")).sources[1]).toMatchObject({
    topic: "quillmere/porch",
    temperature: "/temperature",
    humidity: "/humidity",
  });
});

test("an export is what replay reads", async () => {
  const folder = writeFiles({ "drowse.toml": JSON_PROBE });
  const keep = startDrowse(["keep"], folder);
  await publish(await portOf(keep), MESSAGES);
  keep.child.kill("SIGINT");
  await keep.ended;
  const { stdout } = await runDrowse(["readings"], folder);
  writeFileSync(join(folder, "export.csv"), stdout);
  const replay = await runDrowse(["replay", "export.csv", "--json"], folder);
  expect(replay).toMatchObject({ code: 0, stderr: "" });
});

test("a second keep on the same store is refused by name", async () => {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const keep = startDrowse(["keep"], folder);
  await portOf(keep);
  const second = await runDrowse(["keep"], folder);
  expect(second.code).toBe(1);
  expect(second.stderr).toMatch(/drowse: STORE_BUSY: /);
});

test("what a rehearsal left in the store's folder is laid aside first", async () => {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const state = join(folder, "state");
  mkdirSync(state);
  writeFileSync(join(state, "rehearsal.json"), '{"fromMs":0,"atMs":0,"speed":1}');
  writeFileSync(join(state, "drowse.db"), "invented");
  const keep = startDrowse(["keep"], folder);
  await portOf(keep);
  expect(existsSync(join(state, "rehearsal.json"))).toBe(false);
  const aside = readdirSync(state).find((name) => name.startsWith("rehearsal-of-"))!;
  expect(readdirSync(join(state, aside)).sort()).toEqual(["drowse.db", "rehearsal.json"]);
});

test("pages are served with [page], and a port that is taken stops nothing", async () => {
  const paged = (port: number) => `${PLAIN}\n[page]\nlisten = "127.0.0.1:${port}"\n`;
  const keep = startDrowse(["keep"], writeFiles({ "drowse.toml": paged(0) }));
  const [, address] = await keep.untilPrints(/"address":"([^"]+)","msg":"pages are served"/);
  expect(await (await fetch(address!)).text()).toContain("Quillmere shed");

  const taken = Number(new URL(address!).port);
  const second = startDrowse(["keep"], writeFiles({ "drowse.toml": paged(taken) }));
  await second.untilPrints(/PAGE_PORT_TAKEN: serving pages at 127\.0\.0\.1:\d+/);
  await publish(await portOf(second), [["quillmere/shed/air", "2.5"]]);
  for (const { child, ended } of [keep, second]) {
    child.kill("SIGTERM");
    expect((await ended).code).toBe(0);
  }
});

import { type ChildProcess, fork } from "node:child_process";
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";

/*
 * How fast readings come in, from MQTT publish to PUBACK after the commit that holds them, beside
 * the same broker (aedes) that calls an empty handler; and what memory it takes. Both get the same
 * messages at QoS 1 from the same client, with more on their way than Drowse puts into one commit,
 * so that neither waits for the size of a group. What differs: Drowse decodes, judges, stores and
 * syncs to disk before the PUBACK, and passes nothing on when nobody subscribes, which the broker
 * with the empty handler does as it always does.
 *
 * Client and broker are processes of their own. Both brokers are up at once and measured turn by
 * turn; the ratio is the median of the rounds' own ratios, for on a busy machine the speed of one
 * minute is not that of the next. On two idle cores client and broker work at the same time and the
 * slower one sets the pace; on a busy machine their work adds up. Either way the client's work is
 * in both figures and draws the ratio towards 1, the more the dearer the client is.
 *
 * With mqtt.js, the client that people use, the figure is the target's. The lean client
 * costs next to nothing, so that it shows what a reading costs in the broker's process alone.
 */

const WARMING_ROUNDS = 3;
const ROUNDS = 15;
const READINGS_A_ROUND = 20_000;
const MEMORY_READINGS = 1_000_000;
/** In which V8 gives back what the flood took. */
const REST_MS = 15_000;
const SPEED_TARGET = 0.8;
const MEMORY_TARGET = 1.5;
/** Messages on their way; some four commits of a flood. */
const WINDOWS = { mqttjs: 2_000, lean: 2_000 } as const;

const fileOf = (name: string) => fileURLToPath(new URL(`./ingest/${name}.js`, import.meta.url));

const answer = <T>(child: ChildProcess): Promise<T> =>
  new Promise((resolve, reject) => {
    const fail = (code: number | null) =>
      reject(new Error(`a process of the bench ended with ${code}`));
    child.once("exit", fail);
    child.once("message", (message) => {
      child.off("exit", fail);
      resolve(message as T);
    });
  });

type Server = Readonly<{ child: ChildProcess; port: number }>;
type Client = keyof typeof WINDOWS;

async function startServer(kind: "keep" | "bare" | "idle"): Promise<Server> {
  const child = fork(fileOf("server"), [kind], { execArgv: [] });
  const { port } = await answer<{ port: number }>(child);
  return { child, port };
}

async function rssMB({ child }: Server): Promise<number> {
  const told = answer<{ rssBytes: number }>(child);
  child.send("rss");
  return (await told).rssBytes / 2 ** 20;
}

async function startPublisher(client: Client, { port }: Server): Promise<ChildProcess> {
  const args = [client, port, WINDOWS[client]].map(String);
  const publisher = fork(fileOf("publisher"), args, { execArgv: [] });
  await answer(publisher);
  return publisher;
}

/** @returns readings a second */
async function publish(publisher: ChildProcess, count: number): Promise<number> {
  const told = answer<{ seconds: number }>(publisher);
  publisher.send(count);
  return count / (await told).seconds;
}

const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!;

async function benchSpeed(client: Client): Promise<number> {
  const [bare, keep] = await Promise.all([startServer("bare"), startServer("keep")]);
  const publishers = {
    bare: await startPublisher(client, bare),
    keep: await startPublisher(client, keep),
  };
  const rates = { bare: [] as number[], keep: [] as number[] };
  for (let round = 0; round < WARMING_ROUNDS + ROUNDS; round++)
    for (const kind of ["bare", "keep"] as const) {
      const rate = await publish(publishers[kind], READINGS_A_ROUND);
      if (round >= WARMING_ROUNDS) rates[kind].push(rate);
    }
  for (const child of [publishers.bare, publishers.keep, bare.child, keep.child])
    child.disconnect();
  const ratio = median(rates.keep.map((rate, round) => rate / rates.bare[round]!));
  const [bareRate, keepRate] = [median(rates.bare), median(rates.keep)];
  console.log(
    `${client.padEnd(7)} empty handler ${bareRate.toFixed(0).padStart(6)}/s   ` +
      `acknowledged after commit ${keepRate.toFixed(0).padStart(6)}/s   ratio ${ratio.toFixed(2)}`,
  );
  return ratio;
}

async function benchMemory(): Promise<number> {
  const [idle, keep] = await Promise.all([startServer("idle"), startServer("keep")]);
  const startedMB = await rssMB(keep);
  const publisher = await startPublisher("lean", keep);
  for (let sent = 0; sent < MEMORY_READINGS; sent += 50_000) await publish(publisher, 50_000);
  const floodMB = await rssMB(keep);
  await new Promise((resolve) => setTimeout(resolve, REST_MS));
  const [idleMB, keepMB] = [await rssMB(idle), await rssMB(keep)];
  idle.child.disconnect();
  keep.child.disconnect();
  publisher.disconnect();
  const ratio = keepMB / idleMB;
  const shown = (megabytes: number) => `${megabytes.toFixed(0)} MB`;
  console.log(`memory  libraries loaded ${shown(idleMB)}   keep, started ${shown(startedMB)}`);
  console.log(
    `        with the last of ${MEMORY_READINGS} readings ${shown(floodMB)}, ` +
      `ratio ${(floodMB / idleMB).toFixed(2)}; ${REST_MS / 1_000} s later ${shown(keepMB)}, ` +
      `ratio ${ratio.toFixed(2)}`,
  );
  return ratio;
}

const loads = () => loadavg().map((load) => load.toFixed(1));
console.log(`load of the machine before: ${loads().join(" ")} (1, 5 and 15 min)`);
const speed = await benchSpeed("mqttjs");
await benchSpeed("lean");
const memory = await benchMemory();
console.log(
  `targets: mqttjs ratio at least ${SPEED_TARGET}, memory ratio at most ${MEMORY_TARGET}`,
);
if (speed < SPEED_TARGET || memory > MEMORY_TARGET) process.exitCode = 1;

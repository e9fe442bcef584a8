import { execFile } from "node:child_process";
import { writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { promisify } from "node:util";
import { Aedes } from "aedes";
import { afterEach, describe, expect, test } from "vitest";
import { listenFor } from "../../../daemon/mqtt/listen-for.js";
import { type OutsideConfig, openOutside } from "../../../daemon/mqtt/outside-broker.js";
import { makeCertificate } from "../mail/test-certificate.js";
import { openWaitingDesk } from "./desk.js";
import { freePort, type Mosquitto, noMosquitto, openMosquitto } from "./mosquitto.js";
import { until } from "./until.js";

const run = promisify(execFile);
const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

async function mosquitto(
  settings: string[] = [],
  files: Record<string, string> = {},
): Promise<Mosquitto> {
  const broker = await openMosquitto(settings, files);
  closes.push(() => broker.close());
  return broker;
}

const configFor = (port: number, more: Partial<OutsideConfig> = {}): OutsideConfig => ({
  kind: "outside",
  url: `mqtt://127.0.0.1:${port}`,
  user: null,
  password: null,
  ca: null,
  clientId: "drowse-test",
  stateTopic: null,
  protocolVersion: 4,
  ...more,
});

function open(config: OutsideConfig, filters = ["shed/#"]) {
  const waiting = openWaitingDesk();
  const broker = openOutside(config, filters, waiting.desk);
  let closed = false;
  const close = async () => {
    if (!closed) await broker.close();
    closed = true;
  };
  closes.push(close);
  return { ...waiting, broker, close };
}

const publish = (port: number, topic: string, text: string, ...more: string[]) =>
  run("mosquitto_pub", ["-p", String(port), "-q", "1", "-t", topic, "-m", text, ...more]);

describe.skipIf(noMosquitto !== false)("with a real mosquitto", () => {
  test.each([4, 5] as const)(
    "a persistent session brings what was published while away (protocol %i)",
    async (protocolVersion) => {
      const { port } = await mosquitto();
      const first = open(configFor(port, { protocolVersion }));
      await until("connected", () => first.connections() === 1);
      await publish(port, "shed/air", "1");
      await until("it is taken", () => first.taken.length === 1);
      first.taken[0]!.acknowledge();
      await publish(port, "shed/air", "2");
      await until("the second is taken", () => first.taken.length === 2);
      // Never acknowledged, so it must come again.
      await first.close();
      await publish(port, "shed/air", "3");
      const second = open(configFor(port, { protocolVersion }));
      await until("both came", () => second.taken.length === 2);
      expect(second.texts()).toEqual(["2", "3"]);
      expect(second.taken.every(({ arrival }) => !arrival.retained)).toBe(true);
    },
  );

  test("mosquitto sends 20 unacknowledged messages at most, and goes on when they are safe", async () => {
    const { port } = await mosquitto();
    const { taken, connections } = open(configFor(port));
    await until("connected", () => connections() === 1);
    const lines = Array.from({ length: 50 }, (_, i) => `${i}\n`).join("");
    const sending = run("mosquitto_pub", ["-p", String(port), "-q", "1", "-t", "shed/air", "-l"]);
    sending.child.stdin!.end(lines);
    await sending;
    // mosquitto.conf(5), max_inflight_messages: defaults to 20.
    await until("the window is full", () => taken.length === 20);
    for (let i = 0; i < 50; i++) {
      await until("the next is taken", () => taken.length > i);
      taken[i]!.acknowledge();
    }
    expect(taken.length).toBe(50);
  });

  test("a message too large is acknowledged unseen and does not come again", async () => {
    for (const protocolVersion of [4, 5] as const) {
      const { port } = await mosquitto();
      const { taken, refused, connections, close } = open(configFor(port, { protocolVersion }));
      await until("connected", () => connections() === 1);
      const file = `/tmp/drowse-large-${port}`;
      writeFileSync(file, Buffer.alloc(200_000, 0x31));
      await run("mosquitto_pub", ["-p", String(port), "-q", "1", "-t", "shed/big", "-f", file]);
      await publish(port, "shed/air", "1");
      await until("the next is taken", () => taken.length === 1);
      // With MQTT 5 the broker itself keeps it back.
      expect(refused.map(({ topic }) => topic)).toEqual(protocolVersion === 4 ? ["shed/big"] : []);
      taken[0]!.acknowledge();
      await close();
      const again = open(configFor(port, { protocolVersion }));
      await publish(port, "shed/air", "2");
      await until("the last is taken", () => again.taken.length >= 1);
      expect([again.refused, again.texts()]).toEqual([[], ["2"]]);
    }
  });

  test("a broker that goes away is found again, and loses nothing", async () => {
    const keep = ["persistence true", "persistence_location FOLDER/", "autosave_interval 1"];
    const broker = await mosquitto(keep);
    const { taken, connections, log } = open(configFor(broker.port));
    await until("connected", () => connections() === 1);
    await broker.stop();
    await until("the loss is said", () => log.lines.some((line) => line.includes("trying again")));
    await broker.start();
    await until("connected again", () => connections() === 2);
    await publish(broker.port, "shed/air", "after");
    await until("it is taken", () => taken.length === 1);
    taken[0]!.acknowledge();
  });

  test("a retained message is marked as such", async () => {
    const { port } = await mosquitto();
    await publish(port, "shed/air", "old", "-r");
    const { taken } = open(configFor(port));
    await until("it is taken", () => taken.length === 1);
    expect(taken[0]!.arrival.retained).toBe(true);
  });

  test("an encrypted connection is made where the certificate is known, and said where not", async () => {
    const { cert, key } = makeCertificate();
    const broker = await mosquitto(["certfile FOLDER/cert.pem", "keyfile FOLDER/key.pem"], {
      "cert.pem": cert,
      "key.pem": key,
    });
    const url = `mqtts://localhost:${broker.port}`;
    const strangers = open(configFor(broker.port, { url, clientId: "other" }));
    const said = () => strangers.log.lines.join("\n");
    await until("it is said", () => said().includes("BROKER_UNREACHABLE"));
    expect(said()).toContain("set ca_file in [broker]");
    expect(strangers.connections()).toBe(0);
    const known = open(configFor(broker.port, { url, ca: cert }));
    await until("connected", () => known.connections() === 1);
  });

  test("a wrong password is said with its cure, and without the password", async () => {
    const { port } = await mosquitto(["allow_anonymous false"]);
    const { log } = open(configFor(port, { user: "shed", password: "wrong" }));
    await until("it is said", () => log.lines.some((line) => line.includes("BROKER_REFUSED")));
    expect(log.lines.join()).toContain("does not admit shed; check user and password_file");
    expect(log.lines.join()).not.toContain("wrong");
  });

  test("one can listen to everything for a while, and leave no trace", async () => {
    const { port } = await mosquitto();
    await publish(port, "other/door", "open", "-r");
    const heard: string[] = [];
    const stop = new AbortController();
    const listening = listenFor(configFor(port), stop.signal, ({ topic, payload, retained }) =>
      heard.push(`${topic} ${Buffer.from(payload)} ${retained}`),
    );
    await until("the retained one came", () => heard.length === 1);
    await publish(port, "shed/air", "2.5");
    await until("the live one came", () => heard.length === 2);
    stop.abort();
    await listening;
    expect(heard).toEqual(["other/door open true", "shed/air 2.5 false"]);
  });
});

test("a broker that is not there is said once, with a cure, and tried again", async () => {
  const port = await freePort();
  const { log } = open(configFor(port));
  const failed = () => log.lines.filter((line) => line.includes("BROKER_UNREACHABLE"));
  await until("it is said", () => failed().length === 1);
  expect(failed()[0]).toMatch(/ECONNREFUSED.*is the broker running.*trying again/);
});

test("a subscription that is refused is said with its topic", async () => {
  // mosquitto's own access lists let every subscription pass, so another broker refuses here.
  const aedes = await Aedes.createBroker({
    authorizeSubscribe: (_client, subscription, done) =>
      done(null, subscription.topic === "shed/#" ? null : subscription),
  });
  const server = createServer(aedes.handle).listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  closes.push(() => {
    server.close();
    return new Promise<void>((resolve) => aedes.close(resolve));
  });
  const { port } = server.address() as { port: number };
  const { log } = open(configFor(port), ["yard/air", "shed/#"]);
  await until("it is said", () => log.lines.some((line) => line.includes("BROKER_REFUSED")));
  expect(log.lines.join("\n")).toMatch(/refuses the subscription to shed\/#;/);
});

test("listening to a broker that is not there fails at once", async () => {
  const config = configFor(await freePort());
  await expect(listenFor(config, 5, () => {})).rejects.toThrow(/^BROKER_UNREACHABLE/);
});

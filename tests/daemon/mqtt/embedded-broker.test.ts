import { once } from "node:events";
import { connect as connectSocket, createServer } from "node:net";
import mqtt, { type IClientOptions, type MqttClient } from "mqtt";
import { generate, type Packet, parser, writeToStream } from "mqtt-packet";
import { afterEach, expect, test } from "vitest";
import type { OpenBroker } from "../../../daemon/mqtt/arrival-desk.js";
import { type EmbeddedConfig, openEmbedded } from "../../../daemon/mqtt/embedded-broker.js";
import { hashPassword } from "../../../daemon/mqtt/password-hash.js";
import { makeCertificate } from "../mail/test-certificate.js";
import { openWaitingDesk } from "./desk.js";
import { until } from "./until.js";

const LOOPBACK: EmbeddedConfig = {
  kind: "embedded",
  host: "127.0.0.1",
  port: 0,
  user: null,
  password: null,
  sensors: [],
  hashesFile: null,
  tls: null,
  stateTopic: null,
};
const WITH_PASSWORD = { ...LOOPBACK, user: "shed", password: "a long one" };

const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

async function open(config = LOOPBACK) {
  const waiting = openWaitingDesk();
  const broker = await openEmbedded(config, waiting.desk);
  closes.push(() => broker.close());
  return { broker, ...waiting };
}

async function sensor(broker: OpenBroker, options: IClientOptions = {}): Promise<MqttClient> {
  const client = mqtt.connect({
    host: "127.0.0.1",
    port: broker.port!,
    protocolVersion: 4,
    reconnectPeriod: 0,
    ...options,
  });
  closes.push(() => client.endAsync(true));
  await once(client as never, "connect");
  return client;
}

test("a reading is acknowledged after the desk has it safe, not before; pings are not held up", async () => {
  const { broker, taken } = await open();
  const client = await sensor(broker, { keepalive: 1 });
  let acknowledged = false;
  const published = client.publishAsync("a/b", "2.4", { qos: 1 }).then(() => {
    acknowledged = true;
  });
  await until("the reading is taken", () => taken.length === 1);
  // mqtt.js would close after a missed answer; two answers are two seconds.
  for (let answers = 0; answers < 2; ) {
    const [packet] = (await once(client as never, "packetreceive")) as [Packet];
    if (packet.cmd === "pingresp") answers += 1;
    expect(packet.cmd).not.toBe("puback");
  }
  expect(acknowledged).toBe(false);
  taken[0]!.acknowledge();
  await published;
});

test("later readings come in while the first is held, and each is acknowledged in its turn", async () => {
  const { broker, taken, texts } = await open();
  const client = await sensor(broker);
  const order: number[] = [];
  const all = [1, 2, 3].map((n) =>
    client.publishAsync("a", String(n), { qos: 1 }).then(() => order.push(n)),
  );
  await until("all are taken", () => taken.length === 3);
  expect(texts()).toEqual(["1", "2", "3"]);
  for (const { acknowledge } of taken.toReversed()) acknowledge();
  await Promise.all(all);
  expect(order).toEqual([1, 2, 3]);
});

test("at QoS 2 the same waits: PUBREC after the desk has it, and one hand-over", async () => {
  const { broker, taken } = await open();
  const client = await sensor(broker);
  const commands: string[] = [];
  client.on("packetreceive", ({ cmd }) => commands.push(cmd));
  const published = client.publishAsync("a", "1", { qos: 2 });
  await until("it is taken", () => taken.length === 1);
  const later = client.publishAsync("b", "2", { qos: 0 });
  await until("the next is taken", () => taken.length === 2);
  await later;
  expect(commands).toEqual([]);
  taken[0]!.acknowledge();
  await published;
  expect(commands).toEqual(["pubrec", "pubcomp"]);
  expect(taken.length).toBe(2);
});

test("with somebody listening at QoS 1 it waits just the same, and is passed on at QoS 1", async () => {
  const { broker, taken } = await open();
  const listener = await sensor(broker);
  const heard: number[] = [];
  listener.on("message", (_topic, _payload, { qos }) => heard.push(qos));
  await listener.subscribeAsync("a", { qos: 1 });
  const client = await sensor(broker);
  let acknowledged = false;
  const published = client.publishAsync("a", "1", { qos: 1 }).then(() => {
    acknowledged = true;
  });
  await until("it is passed on", () => heard.length === 1);
  const later = client.publishAsync("b", "2", { qos: 0 });
  await until("the next is taken", () => taken.length === 2);
  await later;
  expect([heard, acknowledged]).toEqual([[1], false]);
  taken[0]!.acknowledge();
  await published;
});

/** A client that says exactly what it is told to. */
async function rawClient(broker: OpenBroker) {
  const socket = connectSocket(broker.port!, "127.0.0.1");
  closes.push(() => socket.destroy());
  const received: Packet[] = [];
  const reading = parser();
  reading.on("packet", (packet) => received.push(packet));
  socket.on("data", (chunk) => reading.parse(chunk));
  const send = (packet: object) => socket.write(generate(packet as Packet));
  const clientId = "raw";
  send({
    cmd: "connect",
    protocolId: "MQTT",
    protocolVersion: 4,
    clean: true,
    clientId,
    keepalive: 0,
  });
  await until("connected", () => received.length === 1);
  return { socket, received, send };
}

const message = (qos: number, messageId: number, more: object = {}) => ({
  cmd: "publish",
  topic: "a",
  payload: "1",
  qos,
  messageId,
  dup: false,
  retain: false,
  ...more,
});

test("a QoS 2 message that is delivered again is not handed over again", async () => {
  const { broker, taken } = await open();
  const { send, received } = await rawClient(broker);
  send(message(2, 8));
  await until("it is taken", () => taken.length === 1);
  send(message(2, 8, { dup: true }));
  send({ cmd: "pingreq" });
  await until("the ping is answered", () => received.length === 2);
  expect(received[1]!.cmd).toBe("pingresp");
  taken[0]!.acknowledge();
  await until("it is received", () => received.length >= 3);
  expect(received[2]).toMatchObject({ cmd: "pubrec", messageId: 8 });
  expect(taken.length).toBe(1);
});

test("a message over 64 KiB is acknowledged, reported and never taken; the next one is", async () => {
  const { broker, taken, refused } = await open();
  const client = await sensor(broker);
  await client.publishAsync("big", Buffer.alloc(1_000_000), { qos: 1 });
  expect(refused).toMatchObject([{ topic: "big" }]);
  client.publish("small", "1");
  await until("the next is taken", () => taken.length === 1);
  expect(taken[0]!.arrival.topic).toBe("small");
});

test("a stranger that announces something huge before it is let in loses the connection", async () => {
  const { broker, refused } = await open(WITH_PASSWORD);
  for (const first of [0x10, 0x30]) {
    const socket = connectSocket(broker.port!, "127.0.0.1");
    socket.on("error", () => {});
    socket.write(Buffer.from([first, 0xff, 0xff, 0xff, 0x7f, 0, 1, 0x61, 0, 0]));
    await once(socket, "close");
  }
  expect(refused).toEqual([]);
});

test("no buffer for each packet identifier is made once there is a broker", async () => {
  await open();
  // Documented so by mqtt-packet; with the cache its heap is 6 MB larger from the first packet on.
  expect(writeToStream.cacheNumbers).toBe(false);
});

test("only the right user with the right password is let in", async () => {
  const { broker } = await open(WITH_PASSWORD);
  await sensor(broker, { username: "shed", password: "a long one" });
  for (const wrong of [
    {},
    { username: "shed" },
    { username: "shed", password: "a long" },
    { username: "sheds", password: "a long one" },
    { username: "", password: "" },
  ])
    await expect(sensor(broker, wrong), JSON.stringify(wrong)).rejects.toThrow("Not authorized");
});

test("it does not listen beyond loopback without a password", async () => {
  const { desk } = openWaitingDesk();
  for (const host of ["0.0.0.0", "::", "192.168.7.9"])
    await expect(openEmbedded({ ...LOOPBACK, host }, desk)).rejects.toThrow(/^BROKER_OPEN/);
  const blank = { ...WITH_PASSWORD, host: "0.0.0.0", password: "" };
  await expect(openEmbedded(blank, desk)).rejects.toThrow(/password_file/);
  const { broker } = await open({ ...WITH_PASSWORD, host: "0.0.0.0" });
  expect(broker.port).toBeGreaterThan(0);
});

test("a taken port is named with whom to ask and what to do", async () => {
  const other = createServer().listen(0, "127.0.0.1");
  closes.push(() => other.close());
  await once(other, "listening");
  const { port } = other.address() as { port: number };
  const { desk } = openWaitingDesk();
  const opening = openEmbedded({ ...LOOPBACK, port }, desk);
  await expect(opening).rejects.toThrow(/^BROKER_PORT_TAKEN.*ss -ltnp.*mqtt:\/\/127.0.0.1/);
});

test("an address of another machine is refused by name", async () => {
  // 192.0.2.0/24 is for documentation only (RFC 5737), so no machine has it.
  const config = { ...WITH_PASSWORD, host: "192.0.2.1" };
  const { desk } = openWaitingDesk();
  await expect(openEmbedded(config, desk)).rejects.toThrow(/^BROKER_LISTEN.*EADDRNOTAVAIL/);
});

test("readings are passed on to other clients, retained ones and $ topics are not kept or spread", async () => {
  const { broker, taken } = await open();
  const listener = await sensor(broker);
  const heard: string[] = [];
  listener.on("message", (topic, _payload, { retain }) => heard.push(`${topic} ${retain}`));
  await listener.subscribeAsync(["#", "$SYS/#", "$forged/#"]);
  const client = await sensor(broker);
  client.publish("$SYS/x/new/clients", listener.options.clientId!);
  client.publish("$forged/x", "1");
  client.publish("a", "1", { retain: true });
  await until("the last one is passed on", () => heard.some((line) => line.startsWith("a ")));
  expect(heard.filter((line) => !/^\$SYS\/[0-9a-f-]{36}\//.test(line))).toEqual(["a false"]);
  expect(listener.connected).toBe(true);
  expect(taken.map(({ arrival }) => arrival.topic)).toEqual([
    "$SYS/x/new/clients",
    "$forged/x",
    "a",
  ]);
  const late = await sensor(broker);
  let retained = 0;
  late.on("message", () => {
    retained += 1;
  });
  await late.subscribeAsync("a");
  client.publish("b", "2");
  await until("the broker has gone on", () => heard.at(-1)?.startsWith("b ") === true);
  expect(retained).toBe(0);
});

test("asked to deliver again, a sensor sends what it has no acknowledgement for", async () => {
  const { broker, taken, texts } = await open();
  const client = await sensor(broker, { reconnectPeriod: 20, clean: false, clientId: "s" });
  const published = client.publishAsync("a", "1", { qos: 1 });
  await until("it is taken", () => taken.length === 1);
  broker.askAgain();
  await until("it is taken again", () => taken.length === 2);
  expect(texts()).toEqual(["1", "1"]);
  taken[0]!.acknowledge();
  taken[1]!.acknowledge();
  await published;
});

test("a will is taken in when its client vanishes", async () => {
  const { broker, taken } = await open();
  const will = { topic: "a/gone", payload: Buffer.from("gone"), qos: 1 as const, retain: true };
  const client = await sensor(broker, { will });
  client.stream.destroy();
  await until("the will is taken", () => taken.length === 1);
  taken[0]!.acknowledge();
  expect(taken[0]!.arrival.topic).toBe("a/gone");
});

test("who subscribes and publishes in one breath hears itself", async () => {
  const { broker, taken } = await open();
  const { socket, received } = await rawClient(broker);
  const subscribe = { cmd: "subscribe", messageId: 5, subscriptions: [{ topic: "a", qos: 0 }] };
  const both = [subscribe, message(1, 6)].map((packet) => generate(packet as Packet));
  socket.write(Buffer.concat(both));
  await until("it is heard", () => received.some(({ cmd }) => cmd === "publish"));
  expect(taken.length).toBe(1);
});

test("a client that breaks its promise to be heard is closed, one that only publishes is not", async () => {
  const { broker, taken, log } = await open();
  const silent = connectSocket(broker.port!, "127.0.0.1");
  const session = { protocolId: "MQTT", protocolVersion: 4, clean: true, keepalive: 1 };
  silent.write(generate({ cmd: "connect", clientId: "silent", ...session } as Packet));
  const closed = once(silent, "close");
  silent.on("data", () => {});
  const busy = connectSocket(broker.port!, "127.0.0.1");
  closes.push(() => busy.destroy());
  busy.write(generate({ cmd: "connect", clientId: "busy", ...session } as Packet));
  const speaking = setInterval(() => busy.write(generate(message(0, 0) as Packet)), 100);
  closes.push(() => clearInterval(speaking));
  await closed;
  const heardBefore = taken.length;
  await until("the busy one goes on", () => taken.length > heardBefore + 3);
  expect(busy.destroyed).toBe(false);
  expect(log.lines.filter((line) => line.startsWith("closing a silent"))).toHaveLength(1);
});

const withSensors = async (): Promise<EmbeddedConfig> => ({
  ...WITH_PASSWORD,
  stateTopic: "drowse/state",
  sensors: [
    {
      user: "board",
      hash: await hashPassword("board secret"),
      publish: ["quillmere/shed/#"],
      read: [],
    },
    {
      user: "panel",
      hash: await hashPassword("panel secret"),
      publish: [],
      read: ["drowse/state"],
    },
  ],
});
const BOARD = { username: "board", password: "board secret" };
const PANEL = { username: "panel", password: "panel secret" };

test("a sensor publishes on its own topics; elsewhere it is acknowledged, said and not believed", async () => {
  const { broker, taken, forbidden } = await open(await withSensors());
  const keeper = await sensor(broker, { username: "shed", password: "a long one" });
  const heard: string[] = [];
  const client = await sensor(broker, BOARD);
  for (const isListenedTo of [false, true]) {
    if (isListenedTo) {
      keeper.on("message", (topic) => heard.push(topic));
      await keeper.subscribeAsync("#");
    }
    taken.splice(0);
    forbidden.splice(0);
    for (const qos of [0, 1, 2] as const) {
      // No acknowledgement is withheld, so these are over at once.
      await client.publishAsync("quillmere/attic/air", "2.4", { qos });
      await client.publishAsync("drowse/state", "gone", { qos });
    }
    client.publish("quillmere/shed/air", "2.4", { qos: 0 });
    await until("its own is taken", () => taken.length === 1);
    expect(taken[0]!.arrival.topic).toBe("quillmere/shed/air");
    expect(forbidden).toHaveLength(6);
    expect(new Set(forbidden)).toEqual(
      new Set(["board quillmere/attic/air", "board drowse/state"]),
    );
  }
  await until("it is passed on", () => heard.includes("quillmere/shed/air"));
  expect(heard).not.toContain("quillmere/attic/air");
});

test("its will on a topic of others is not believed either", async () => {
  const { broker, taken, forbidden } = await open(await withSensors());
  const will = {
    topic: "quillmere/attic/air",
    payload: Buffer.from("9"),
    qos: 0 as const,
    retain: false,
  };
  const client = await sensor(broker, { ...BOARD, will });
  client.stream.destroy();
  await until("the will is refused", () => forbidden.length === 1);
  expect(taken).toEqual([]);
});

test("a sensor reads nothing, a reader what its rights name: Drowse's state, as it stands", async () => {
  const { broker, taken } = await open(await withSensors());
  const board = await sensor(broker, BOARD);
  for (const filter of ["#", "quillmere/shed/air", "drowse/state", "$SYS/#"]) {
    const [granted] = await board.subscribeAsync(filter).catch((error) => [error]);
    expect(String(granted.qos ?? granted), filter).toMatch(/128|Unspecified|refus/i);
  }
  const panel = await sensor(broker, PANEL);
  const states: string[] = [];
  panel.on("message", (_topic, payload) => states.push(JSON.parse(String(payload)).state));
  await panel.subscribeAsync("drowse/state");
  await until("it knows the state", () => states.length === 1);
  broker.tell("stuck");
  await until("it knows the new one", () => states.length === 2);
  expect(states).toEqual(["keeping", "stuck"]);
  // The state's reader does not take readings off their short way.
  board.publish("quillmere/shed/air", "2.4", { qos: 0 });
  await until("it is taken", () => taken.length === 1);
  expect(states).toHaveLength(2);
});

test("nobody throws a sensor of another user off by taking the name of its client", async () => {
  const { broker } = await open(await withSensors());
  const board = await sensor(broker, { ...BOARD, clientId: "the-board" });
  await sensor(broker, { ...PANEL, clientId: "the-board" });
  await board.publishAsync("elsewhere", "1", { qos: 1 });
  expect(board.connected).toBe(true);
  const gone = once(board as never, "close");
  await sensor(broker, { ...BOARD, clientId: "the-board" });
  await gone;
});

test("one address that connects without end is refused for a while, and said once", async () => {
  const { broker, log } = await open();
  const closed: number[] = [];
  const sockets = Array.from({ length: 80 }, (_, n) => {
    const socket = connectSocket(broker.port!, "127.0.0.1");
    socket.on("error", () => {});
    socket.on("close", () => closed.push(n));
    closes.push(() => socket.destroy());
    return socket;
  });
  await until("those beyond the bound are closed", () => closed.length >= 20);
  expect(sockets.filter((socket) => !socket.destroyed).length).toBe(60);
  expect(log.lines.filter((line) => line.includes("one address makes too many"))).toHaveLength(1);
});

test("with a certificate it listens encrypted, and for nothing else", async () => {
  const { key, cert } = makeCertificate();
  const { broker, taken } = await open({ ...(await withSensors()), tls: { key, cert } });
  const client = await sensor(broker, { ...BOARD, protocol: "mqtts", ca: cert });
  const published = client.publishAsync("quillmere/shed/air", "2.4", { qos: 1 });
  await until("it is taken", () => taken.length === 1);
  taken[0]!.acknowledge();
  await published;
  const plain = connectSocket(broker.port!, "127.0.0.1");
  plain.on("error", () => {});
  plain.write(
    generate({ cmd: "connect", clientId: "p", protocolId: "MQTT", protocolVersion: 4 } as Packet),
  );
  await once(plain, "close");
});

test("a certificate that does not fit its key is said by name", async () => {
  const tls = { key: makeCertificate().key, cert: makeCertificate().cert };
  const { desk } = openWaitingDesk();
  await expect(openEmbedded({ ...LOOPBACK, tls }, desk)).rejects.toThrow(
    /^BROKER_LISTEN.*key_file/,
  );
});

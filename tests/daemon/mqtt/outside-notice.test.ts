import { createServer } from "node:net";
import { Aedes, type AuthenticateError, type Client } from "aedes";
import mqtt from "mqtt";
import { afterEach, describe, expect, test } from "vitest";
import { openOutside } from "../../../daemon/mqtt/outside-broker.js";
import { openWaitingDesk } from "./desk.js";
import { noMosquitto, openMosquitto } from "./mosquitto.js";
import { until } from "./until.js";

const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

function open(port: number, protocolVersion: 4 | 5 = 4) {
  const waiting = openWaitingDesk();
  const config = {
    ...({ kind: "outside", url: `mqtt://127.0.0.1:${port}`, user: null, password: null } as const),
    ...{ ca: null, clientId: "drowse-test", protocolVersion, stateTopic: "drowse/state" },
  };
  const broker = openOutside(config, ["shed/#"], waiting.desk);
  let closing: Promise<void> | null = null;
  const close = () => {
    closing ??= broker.close();
    return closing;
  };
  closes.push(close);
  return { ...waiting, broker, close };
}

/** Someone else who watches the state topic. */
async function onlooker(port: number) {
  const states: string[] = [];
  const client = await mqtt.connectAsync({ host: "127.0.0.1", port });
  closes.push(() => client.endAsync(true));
  client.on("message", (_topic, payload) => {
    const { state } = JSON.parse(String(payload));
    // At QoS 1 one may come twice (MQTT 3.1.1, section 4.3.2).
    if (state !== states.at(-1)) states.push(state);
  });
  await client.subscribeAsync("drowse/state");
  return states;
}

describe.skipIf(noMosquitto !== false)("with a real mosquitto", () => {
  test.each([4, 5] as const)(
    "others see that Drowse keeps watch, when it breaks off, and that it stopped (protocol %i)",
    async (protocolVersion) => {
      const { port, close } = await openMosquitto();
      closes.push(close);
      const states = await onlooker(port);
      const drowse = open(port, protocolVersion);
      await until("it keeps watch", () => states.length === 1);
      drowse.broker.tell("stuck");
      await until("a loop stands", () => states.length === 2);
      drowse.broker.tell("keeping");
      await until("it turns", () => states.length === 3);
      // Without a DISCONNECT, as when the board dies: the broker publishes the will.
      drowse.broker.askAgain();
      await until("it is back", () => states.length === 5);
      expect(states).toEqual(["keeping", "stuck", "keeping", "gone", "keeping"]);
      await drowse.close();
      const late = await onlooker(port);
      await until("the last state is kept", () => late.length === 1);
      expect(late).toEqual(["gone"]);
    },
  );
});

test("a broker that refuses the will still brings readings, and it is said that no state is kept", async () => {
  let refusals = 0;
  const aedes = await Aedes.createBroker({
    authenticate: (client: Client, _user, _password, done) => {
      const isRefused = (client as unknown as { _will?: object })._will !== undefined;
      if (isRefused) refusals += 1;
      const error = Object.assign(new Error("no such will"), { returnCode: 5 });
      done(isRefused ? (error as AuthenticateError) : null, !isRefused);
    },
  });
  const server = createServer(aedes.handle).listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  closes.push(() => {
    server.close();
    return new Promise<void>((resolve) => aedes.close(resolve));
  });
  const { port } = server.address() as { port: number };
  const states = await onlooker(port);
  const { connections, log, broker } = open(port);
  await until("connected", () => connections() === 1);
  expect(refusals).toBe(1);
  broker.tell("stuck");
  await until("it is said", () => log.lines.some((line) => line.includes("keep no state")));
  expect(states).toEqual([]);
});

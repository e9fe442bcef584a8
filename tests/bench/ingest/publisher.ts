import { once } from "node:events";
import { connect } from "node:net";
import mqtt from "mqtt";
import { generate } from "mqtt-packet";
import { messageAt } from "./series.js";

/*
 * Publishes the series at QoS 1 as fast as acknowledgements come, in a process of its own:
 * `publisher.js lean|mqttjs PORT WINDOW`. Asked for a number of messages, it publishes so many
 * and tells the seconds it took.
 */

const [kind, port, window] = [process.argv[2], Number(process.argv[3]), Number(process.argv[4])];
let next = 0;

type Publish = (count: number) => Promise<void>;

/** mqtt.js, a client that people use. */
async function openMqttJs(): Promise<Publish> {
  const client = await mqtt.connectAsync({ host: "127.0.0.1", port });
  return async (count) => {
    const until = next + count;
    const lane = async () => {
      while (next < until) {
        const { topic, payload } = messageAt(next++);
        await client.publishAsync(topic, payload, { qos: 1 });
      }
    };
    await Promise.all(Array.from({ length: window }, lane));
  };
}

/** As little client as can be, so that it is the broker that is measured. */
async function openLean(): Promise<Publish> {
  const socket = connect({ port, host: "127.0.0.1", noDelay: true });
  const session = { protocolId: "MQTT", protocolVersion: 4, clean: true, keepalive: 0 } as const;
  socket.write(generate({ cmd: "connect", clientId: "lean", ...session }));
  await once(socket, "data");
  const packetAt = (index: number) => {
    const messageId = 1 + (index % 60_000);
    const flags = { qos: 1, dup: false, retain: false } as const;
    return generate({ cmd: "publish", ...messageAt(index), messageId, ...flags });
  };
  return async (count) => {
    const packets = Array.from({ length: count }, () => packetAt(next++));
    let ackBytes = 0;
    let sent = 0;
    const fill = () => {
      const until = Math.min(count, ackBytes / 4 + window);
      if (until > sent) socket.write(Buffer.concat(packets.slice(sent, until)));
      sent = until;
    };
    await new Promise<void>((resolve) => {
      socket.on("data", (chunk) => {
        ackBytes += chunk.length;
        if (ackBytes / 4 < count) return fill();
        socket.removeAllListeners("data");
        resolve();
      });
      startMs = performance.now();
      fill();
    });
  };
}

let startMs = 0;
const publish = await (kind === "lean" ? openLean() : openMqttJs());
process.on("message", async (count: number) => {
  startMs = performance.now();
  await publish(count);
  process.send?.({ seconds: (performance.now() - startMs) / 1_000 });
});
process.once("disconnect", () => process.exit(0));
process.send?.({});

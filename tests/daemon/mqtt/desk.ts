import { systemClock } from "../../../daemon/clock.js";
import type { ArrivalDesk, Log } from "../../../daemon/mqtt/arrival-desk.js";
import type { Oversize } from "../../../daemon/mqtt/packet-sieve.js";
import type { Arrival } from "../../../sensors/decode.js";

/** A log that remembers its lines. */
export function openMemoryLog(): Log & { lines: string[] } {
  const lines: string[] = [];
  const say = (facts: object, message: string) => {
    lines.push(`${message} ${JSON.stringify(facts)}`);
  };
  return { lines, info: say, warn: say, error: say };
}

/** A desk that takes everything and acknowledges nothing until it is told to. */
export function openWaitingDesk() {
  const taken: Array<{ arrival: Arrival; acknowledge: () => void }> = [];
  const refused: Oversize[] = [];
  const forbidden: string[] = [];
  const cutOffs: Array<string | null> = [];
  let connections = 0;
  const log = openMemoryLog();
  const desk: ArrivalDesk = {
    take: (arrival, acknowledge) => {
      taken.push({ arrival, acknowledge });
    },
    refuse: (packet) => {
      refused.push(packet);
    },
    forbid: (topic, user) => {
      forbidden.push(`${user ?? "nobody"} ${topic}`);
    },
    cutOff: (said) => {
      cutOffs.push(said);
    },
    connected: () => {
      connections += 1;
    },
    clock: systemClock,
    log,
  };
  const texts = () => taken.map(({ arrival }) => Buffer.from(arrival.payload).toString());
  return { desk, taken, refused, forbidden, cutOffs, log, texts, connections: () => connections };
}

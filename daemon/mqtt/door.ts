import { createHmac, randomBytes, timingSafeEqual } from "node:crypto";
import { coversFilter, matchesTopic } from "../../sensors/topic-filter.js";
import type { Config, SensorRights } from "../config.js";
import { isPasswordOf } from "./password-hash.js";

/** What a client that was let in may do. */
export type Rights = Readonly<{
  /** null for whoever comes without a name. */
  user: string | null;
  mayPublish(topic: string): boolean;
  /** Whether it may subscribe to a filter. */
  maySubscribe(filter: string): boolean;
}>;

export type Door = Readonly<{
  /** The rights of whoever gives these, null for one that is not let in. */
  admit(user: string | undefined, password: Uint8Array | undefined): Promise<Rights | null>;
}>;

/** Tries of passwords that may wait; beyond it they are refused unseen. Our choice. */
const WAITING_MOST = 16;
/** Topics remembered for each client; a sensor has a few. */
const TOPICS_KEPT = 64;

const EVERYTHING = { mayPublish: () => true, maySubscribe: () => true };

type Keys = Pick<Extract<Config["broker"], { kind: "embedded" }>, "user" | "password" | "sensors">;

/**
 * Says who is let in at the embedded broker. Without a user and without sensors in the config
 * anyone is, which is why it then listens on loopback only.
 *
 * Hashing a password takes 16 MB and as much time as thousands of readings, so one is tried at a
 * time, at most 16 wait, and a password that was right once is known again by a digest under a key
 * of this process.
 */
export function openDoor({ user, password, sensors }: Keys): Door {
  const key = randomBytes(32);
  const digest = (secret: string | Uint8Array) => createHmac("sha256", key).update(secret).digest();
  const isSame = (a: Buffer, b: Buffer) => timingSafeEqual(a, b);
  const known = new Map<string, Buffer>();
  if (user !== null && password !== null && password !== "") known.set(user, digest(password));
  const byUser = new Map(sensors.map((sensor) => [sensor.user, sensor]));
  let waiting = 0;
  let turn: Promise<unknown> = Promise.resolve();

  const isRight = async (name: string, given: Uint8Array): Promise<boolean> => {
    const before = known.get(name);
    if (before !== undefined && isSame(before, digest(given))) return true;
    const hash = byUser.get(name)?.hash ?? null;
    if (hash === null || waiting >= WAITING_MOST) return false;
    waiting += 1;
    const tried = turn.then(() => isPasswordOf(given, hash)).finally(() => (waiting -= 1));
    turn = tried.catch(() => {});
    if (!(await tried)) return false;
    known.set(name, digest(given));
    return true;
  };

  return {
    admit: async (name, given) => {
      if (user === null && sensors.length === 0) return { user: null, ...EVERYTHING };
      if (name === undefined || !(await isRight(name, given ?? Buffer.alloc(0)))) return null;
      if (name === user) return { user: name, ...EVERYTHING };
      return rightsOf(byUser.get(name)!);
    },
  };
}

function rightsOf({ user, publish, read }: SensorRights): Rights {
  const topics = new Map<string, boolean>();
  return {
    user,
    mayPublish: (topic) => {
      const before = topics.get(topic);
      if (before !== undefined) return before;
      const may = publish.some((filter) => matchesTopic(filter, topic));
      if (topics.size >= TOPICS_KEPT) topics.clear();
      topics.set(topic, may);
      return may;
    },
    maySubscribe: (filter) => read.some((right) => coversFilter(right, filter)),
  };
}

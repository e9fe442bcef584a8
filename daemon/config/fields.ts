import { z } from "zod";
import { findTopicFilterFault } from "../../sensors/topic-filter.js";

/** A text that satisfies `test`; `expected` says in the keeper's words what that is. */
function text(expected: string, test: (value: string) => boolean) {
  return z.string({ error: expected }).refine(test, { error: expected });
}

/** A number from `low` to `high`, ends included. */
export function numberFrom(low: number, high: number, unit: string) {
  const error = `expected a number from ${low} to ${high}${unit === "" ? "" : ` ${unit}`}`;
  return z.number({ error }).min(low, { error }).max(high, { error });
}

/** A whole number from `low` to `high`, ends included. */
export function wholeFrom(low: number, high: number) {
  const error = `expected a whole number from ${low} to ${high}`;
  return z.int({ error }).min(low, { error }).max(high, { error });
}

/** One of a few words. */
export function oneOf<const Words extends readonly [string, ...string[]]>(words: Words) {
  return z.enum(words, { error: `expected one of ${words.map((w) => `"${w}"`).join(", ")}` });
}

/** Two numbers, the low edge first, both from `low` to `high`. */
export function spanFrom(low: number, high: number, unit: string, example: string) {
  const error =
    `expected two numbers from ${low} to ${high} ${unit}, ` +
    `the low edge below the high one, for example ${example}`;
  return z
    .array(z.number({ error }), { error })
    .refine((v) => v.length === 2 && v[0]! >= low && v[0]! < v[1]! && v[1]! <= high, { error })
    .transform((v) => ({ low: v[0]!, high: v[1]! }));
}

/** A line of text without control characters, so that it can stand in a letter's header. */
export const line = text(
  "expected a line of 1 to 100 characters",
  // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
  (v) => v.trim() !== "" && v.length <= 100 && !/[\u0000-\u001f\u007f]/.test(v),
);

/** The name by which other keys, the store and commands point at a thing. */
export const id = text("expected 1 to 40 letters, digits, - or _, for example shed-air", (v) =>
  /^[A-Za-z0-9][\w-]{0,39}$/.test(v),
);

const BARE_ADDRESS = /^[^\s@<>,;:"()[\]\\]+@[^\s@<>,;:"()[\]\\]+$/;

/** One e-mail address, bare. */
export const address = text(
  "expected an e-mail address, for example keeper@example.org",
  (v) => v.length <= 254 && BARE_ADDRESS.test(v),
);

/** An address, with or without a name before it (RFC 5322, section 3.4). */
export const mailbox = text(
  'expected an address such as "Drowse <drowse@example.org>"',
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they would break the header
  (v) => BARE_ADDRESS.test(/^[^<>\u0000-\u001f]*<([^<>]+)>$/.exec(v)?.[1] ?? v),
);

/** The way to a file, absolute or from the folder of the config. */
export const filePath = text("expected the path of a file", (v) => v.trim() !== "");

/** An IANA time zone that this system knows. */
export const timezone = text(
  "expected an IANA time zone, for example Europe/London",
  (v) => /^[A-Za-z]/.test(v) && isZone(v),
);

function isZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat("en", { timeZone: name }) !== null;
  } catch {
    return false;
  }
}

/** A topic filter (MQTT 3.1.1, section 4.7). */
export const topicFilter = z.string({ error: "expected an MQTT topic" }).superRefine((v, check) => {
  const fault = findTopicFilterFault(v);
  if (fault !== null) check.addIssue(`expected an MQTT topic; this one ${fault}`);
});

/** The name of one topic, to publish on (MQTT 3.1.1, section 4.7). */
export const topicName = text(
  "expected an MQTT topic without wildcards, for example drowse/state",
  (v) => findTopicFilterFault(v) === null && !/[#+]/.test(v) && !v.startsWith("$"),
);

/** An address of the web without credentials in it. */
export const webAddress = text("expected https://HOST/PATH, with no user in it", (v) => {
  const url = URL.canParse(v) ? new URL(v) : null;
  return url !== null && /^https?:$/.test(url.protocol) && url.username + url.password === "";
});

/** A time of day on the site's clock. */
export const timeOfDay = text("expected a time of day as HH:MM, for example 07:00", (v) =>
  /^([01]\d|2[0-3]):[0-5]\d$/.test(v),
);

/** Where to listen; port 0 lets the system choose. */
export type Listen = Readonly<{ host: string; port: number }>;

/** "host:port" taken apart, null where it is not that. An IPv6 host stands in brackets. */
export function splitListen(value: string): Listen | null {
  const match = /^(?:\[([0-9A-Fa-f:.]+)\]|([A-Za-z0-9.-]+)):(\d{1,5})$/.exec(value);
  const port = Number(match?.[3]);
  if (match === null || port > 65_535) return null;
  return { host: match[1] ?? match[2]!, port };
}

/** A machine's name without a port (RFC 1123, section 2.1), in small letters as browsers send it. */
export const hostName = text(
  "expected a name without a port, in small letters, for example bees.example.org",
  (v) =>
    v.length <= 253 && /^[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*$/.test(v),
);

/** An address and a port to listen on. */
export const listen = text(
  "expected an address and a port, for example 127.0.0.1:1883",
  (v) => splitListen(v) !== null,
);

/** Whether a host can be reached from this machine alone. */
export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127(\.\d{1,3}){3}$/.test(host);
}

import { parsePointer } from "../../sensors/json-pointer.js";
import { isAmongCocoons } from "../../shared/site.js";
import { type Fault, isTable, type KeyPath, type RawTable } from "./fault.js";
import { isLoopback, splitListen } from "./fields.js";
import { checkSpecies } from "./own-species.js";

/*
 * What keys owe to each other. This reads the raw TOML and not the checked sections, so that
 * a typo in one table does not hide what is wrong between two others.
 */

/** Check keys against each other, adding what does not agree to `faults`. */
export function findDisagreements(raw: RawTable, faults: Fault[]): void {
  const chambers = tables(raw.chamber);
  const probes = tables(raw.probe);
  findTwins("chamber", chambers, faults);
  findTwins("probe", probes, faults);
  probes.forEach((probe, index) => {
    checkPlace(probe, ["probe", index], chambers, faults);
    checkPayload(probe, ["probe", index], faults);
  });
  checkWatched(chambers, probes, faults);
  const species = tables(raw.species);
  findTwins("species", species, faults);
  checkSpecies(species, chambers, faults);
  const sensors = tables(raw.sensor);
  findTwins("sensor", sensors, faults, "user");
  if (isTable(raw.broker)) {
    checkBroker(raw.broker, sensors.length > 0, faults);
    checkSensors(raw.broker, sensors, faults);
  }
  if (isTable(raw.mail)) checkMail(raw.mail, faults);
  if (isTable(raw.page)) checkPage(raw.page, faults);
}

function tables(value: unknown): RawTable[] {
  return Array.isArray(value) ? value.map((v) => (isTable(v) ? v : {})) : [];
}

function findTwins(
  name: string,
  items: readonly RawTable[],
  faults: Fault[],
  key: "id" | "user" = "id",
): void {
  items.forEach((item, index) => {
    const first = items.findIndex((other) => other[key] === item[key]);
    if (typeof item[key] === "string" && first < index)
      faults.push({
        path: [name, index, key],
        expected: `expected an ${key} of its own; ${name} number ${first + 1} has this one`,
      });
  });
}

function checkPlace(
  probe: RawTable,
  path: KeyPath,
  chambers: readonly RawTable[],
  faults: Fault[],
): void {
  const at = [...path, "chamber"];
  const ids = chambers.map((c) => c.id).filter((v) => typeof v === "string");
  if (probe.place === "outdoors") {
    if (probe.chamber !== undefined)
      faults.push({ path: at, expected: 'not for a probe with place = "outdoors"; leave it out' });
  } else if (typeof probe.chamber !== "string" || !ids.includes(probe.chamber)) {
    const known = ids.length === 0 ? "there is no [[chamber]] yet" : `one of ${ids.join(", ")}`;
    faults.push({ path: at, expected: `expected the id of a chamber; ${known}` });
  }
}

function checkPayload(probe: RawTable, path: KeyPath, faults: Fault[]): void {
  const refuse = (key: string, expected: string) => faults.push({ path: [...path, key], expected });
  const given = (key: string) => probe[key] !== undefined;
  for (const key of ["battery_unit", "battery_low"])
    if (given(key) && !given("battery")) refuse(key, "only with battery");
  if (probe.payload === "number") {
    for (const key of ["temperature", "humidity", "time", "battery"])
      if (given(key)) refuse(key, 'not for payload = "number"; quantity says what the number is');
    return;
  }
  if (probe.payload !== "json" && probe.payload !== "senml") return;
  if (given("quantity")) refuse("quantity", 'only for payload = "number"');
  if (probe.payload === "senml") {
    // A pack says by its units what is what; a name is needed only where several could be meant.
    if (given("time")) refuse("time", 'not for payload = "senml", which carries its own time');
    if (given("battery_unit"))
      refuse("battery_unit", 'not for payload = "senml", which names its own');
    return;
  }
  if (!given("temperature") && !given("humidity"))
    refuse("temperature", "expected temperature, humidity or both to say where to find them");
  for (const key of ["temperature", "humidity", "time", "battery"]) {
    const pointer = probe[key];
    if (typeof pointer === "string" && parsePointer(pointer) === null)
      refuse(key, "expected a JSON Pointer (RFC 6901), for example /temperature");
  }
}

/** A chamber that nothing measures would be called sound for ever. */
function checkWatched(
  chambers: readonly RawTable[],
  probes: readonly RawTable[],
  faults: Fault[],
): void {
  // A probe that already has a fault of its own may be the one this chamber needs.
  if (
    faults.some(({ path }) => path[0] === "probe" && (path[2] === "chamber" || path[2] === "place"))
  )
    return;
  chambers.forEach(({ id }, index) => {
    const watched = probes.some(
      (p) => p.chamber === id && isAmongCocoons(p.place) && isThermometer(p),
    );
    if (typeof id === "string" && !watched)
      faults.push({
        path: ["chamber", index, "id"],
        expected:
          'expected a [[probe]] with this chamber and place = "air" or "box" that measures temperature',
      });
  });
}

/** Whether a probe measures temperature; what a SenML pack holds only the pack itself says. */
function isThermometer({ payload, quantity, temperature, humidity }: RawTable): boolean {
  if (payload === "number") return quantity !== "humidity";
  return payload !== "json" || temperature !== undefined || humidity === undefined;
}

function checkBroker(broker: RawTable, hasSensors: boolean, faults: Fault[]): void {
  const refuse = (key: string, expected: string, shown?: string) =>
    faults.push({ path: ["broker", key], expected, ...(shown === undefined ? {} : { shown }) });
  const { embedded, url, user } = broker;
  const bothOrNone = user === undefined && broker.password_file === undefined;
  const both = user !== undefined && broker.password_file !== undefined;
  if ((embedded === undefined) === (url === undefined))
    return void refuse("embedded", "expected either embedded or url, not both and not neither");
  if (typeof url === "string") {
    const fault = urlFault(url);
    if (fault !== null) refuse("url", fault, url.includes("@") ? "(not shown)" : undefined);
    else if (broker.ca_file !== undefined && !url.startsWith("mqtts:"))
      refuse("ca_file", "only for an mqtts:// url");
    if (user === undefined && broker.password_file !== undefined)
      refuse("user", "expected a user for the password");
    for (const key of ["cert_file", "key_file", "hashes_file"])
      if (broker[key] !== undefined) refuse(key, "only for an embedded broker");
    if (fault === null && broker.password_file !== undefined && broker.plain_password !== true)
      refusePlainPassword(url, refuse);
    return;
  }
  for (const key of ["ca_file", "client_id", "protocol"])
    if (broker[key] !== undefined) refuse(key, "only for an outside broker, named by url");
  if ((broker.cert_file === undefined) !== (broker.key_file === undefined))
    refuse(
      broker.cert_file === undefined ? "cert_file" : "key_file",
      "expected cert_file and key_file together",
    );
  const open = typeof embedded === "string" ? splitListen(embedded) : null;
  if (!both && !bothOrNone)
    refuse(
      user === undefined ? "user" : "password_file",
      "expected user and password_file together",
    );
  if (open !== null && !isLoopback(open.host) && bothOrNone && !hasSensors)
    refuse(
      "embedded",
      "expected [[sensor]] tables, or user and password_file to listen beyond loopback",
    );
  else if (open !== null && !isLoopback(open.host) && isPlain(broker))
    refuse(
      "embedded",
      "expected cert_file and key_file, or sensors' passwords would travel in the open; if that " +
        "network is your own and you accept it, set plain_password = true",
    );
}

const isPlain = ({ cert_file, plain_password }: RawTable): boolean =>
  cert_file === undefined && plain_password !== true;

/** RFC 3986 hosts of URLs; a loopback never leaves the machine. */
function refusePlainPassword(url: string, refuse: (key: string, expected: string) => void): void {
  const { protocol, hostname } = new URL(url);
  if (protocol === "mqtts:" || isLoopback(hostname.replace(/^\[|\]$/g, ""))) return;
  refuse(
    "url",
    "expected mqtts://, or the password would travel in the open; if that network is your own " +
      "and you accept it, set plain_password = true",
  );
}

function checkSensors(broker: RawTable, sensors: readonly RawTable[], faults: Fault[]): void {
  if (sensors.length === 0) return;
  if (broker.url !== undefined)
    faults.push({ path: ["sensor", 0], expected: "only for an embedded broker" });
  else if (broker.hashes_file === undefined)
    faults.push({
      path: ["broker", "hashes_file"],
      expected: "expected a file for the sensors' hashed passwords; drowse admit writes it",
    });
  sensors.forEach((sensor, index) => {
    if (sensor.user !== undefined && sensor.user === broker.user)
      faults.push({ path: ["sensor", index, "user"], expected: "[broker] has this user already" });
  });
}

function urlFault(url: string): string | null {
  const parsed = URL.canParse(url) ? new URL(url) : null;
  if (parsed === null || !["mqtt:", "mqtts:"].includes(parsed.protocol) || parsed.hostname === "")
    return "expected mqtt://HOST:PORT or mqtts://HOST:PORT";
  if (parsed.username !== "" || parsed.password !== "")
    return "expected no credentials in the url; give user and password_file instead";
  return null;
}

function checkMail(mail: RawTable, faults: Fault[]): void {
  const { user, password_file, security, host } = mail;
  if ((user === undefined) !== (password_file === undefined))
    faults.push({
      path: ["mail", user === undefined ? "user" : "password_file"],
      expected: "expected user and password_file together",
    });
  if (security === "none" && user !== undefined && typeof host === "string" && !isLoopback(host))
    faults.push({
      path: ["mail", "security"],
      expected: 'expected "starttls" or "tls", or the password would travel in the open',
    });
}

function checkPage(page: RawTable, faults: Fault[]): void {
  const open = typeof page.listen === "string" ? splitListen(page.listen) : null;
  if (open !== null && !isLoopback(open.host) && page.passphrase_file === undefined)
    faults.push({
      path: ["page", "listen"],
      expected: "expected a passphrase_file to listen beyond loopback",
    });
}

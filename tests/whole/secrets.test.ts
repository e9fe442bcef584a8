import { existsSync, readdirSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { expect, onTestFinished, test } from "vitest";
import { systemClock } from "../../daemon/clock.js";
import { loadConfig } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { openStore } from "../../daemon/store/store.js";
import { runDrowse } from "../command.js";
import { PLAIN, writeFiles } from "../daemon/config/written-config.js";
import { answer, openInbox } from "../daemon/mail/inbox.js";
import { openMemoryLog } from "../daemon/mqtt/desk.js";
import { until } from "../daemon/mqtt/until.js";

const SECRETS = {
  "secret-broker": "Hawthorn-4711-broker",
  "secret-mail": "Hawthorn-4711-mailbox",
  "secret-page": "Hawthorn-4711-passphrase",
  "secret-heart": "Hawthorn-4711-heartbeat",
} as const;
/** What a secret looks like on the wire is as bad as the secret. */
const forms = (secret: string) => [secret, Buffer.from(secret).toString("base64")];

const config = (mailPort: number, heartPort: number) =>
  `${PLAIN.replace(
    'embedded = "127.0.0.1:0"',
    'embedded = "127.0.0.1:0"\nuser = "sensors"\npassword_file = "secret-broker"',
  )}
[mail]
host = "127.0.0.1"
port = ${mailPort}
security = "starttls"
ca_file = "ca.pem"
user = "drowse"
password_file = "secret-mail"
from = "Drowse <drowse@quillmere.example>"
[page]
listen = "127.0.0.1:0"
passphrase_file = "secret-page"
[heartbeat]
url = "http://127.0.0.1:${heartPort}/beat"
secret_file = "secret-heart"
every_min = 1
`;

/** A place for heartbeats that refuses them and repeats what it was told. */
async function openDeafEar(): Promise<{ port: number; told: () => number }> {
  let told = 0;
  const server = createServer((request, response) => {
    told += 1;
    response.writeHead(500, { "x-said": JSON.stringify(request.headers) });
    response.end(JSON.stringify(request.headers));
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  onTestFinished(() => void server.close());
  return { port: (server.address() as AddressInfo).port, told: () => told };
}

const textsIn = (folder: string): string[] =>
  existsSync(folder)
    ? readdirSync(folder, { withFileTypes: true, recursive: true })
        .filter((entry) => entry.isFile())
        .map((entry) => readFileSync(join(entry.parentPath, entry.name), "latin1"))
    : [];

test("through wrong passwords and refusals no secret gets into log, letters, store or what commands print", async () => {
  const inbox = await openInbox({
    onAuth: ({ password }, _session, done) => done(answer(535, `no, ${password} is wrong`)),
  });
  onTestFinished(() => inbox.close());
  const ear = await openDeafEar();
  const home = writeFiles({
    ...SECRETS,
    "ca.pem": inbox.ca,
    "drowse.toml": config(inbox.port, ear.port),
  });
  const log = openMemoryLog();
  const keeping = await startKeep(loadConfig(join(home, "drowse.toml")), {
    clock: systemClock,
    log,
  });
  onTestFinished(() => keeping.close());
  const { port, pageAddress } = keeping;
  const connect = (password: string) =>
    connectAsync(`mqtt://127.0.0.1:${port}`, { username: "sensors", password, reconnectPeriod: 0 });
  await expect(connect(`${SECRETS["secret-broker"]}x`)).rejects.toThrow();
  const sensor = await connect(SECRETS["secret-broker"]);
  await sensor.publishAsync("quillmere/shed/air", "2.5", { qos: 1 });
  await sensor.endAsync();
  const enter = (passphrase: string) =>
    fetch(`${pageAddress}enter`, {
      method: "POST",
      redirect: "manual",
      headers: { origin: pageAddress!.slice(0, -1) },
      body: new URLSearchParams({ passphrase, next: "/" }),
    });
  const pages = [
    await enter(`${SECRETS["secret-page"]}x`),
    await enter(SECRETS["secret-page"]),
    await fetch(pageAddress!),
  ];
  expect(pages.map(({ status }) => status)).toEqual([403, 303, expect.any(Number)]);
  const ring = await runDrowse(["ring"], home);
  await until("the heart was refused", () => ear.told() > 0, 30_000);
  const printed = [ring, await runDrowse(["now"], home), await runDrowse(["hear"], home)];
  printed.push(await runDrowse(["now", "--json"], home));
  expect(ring.code).toBe(1);
  expect(ring.stderr).toMatch(/is wrong|MAIL_/);
  await keeping.close();
  const store = openStore(join(home, "state"), { timezone: "Europe/London" }, { mode: "look" });
  store.close();
  const everything = [
    log.lines.join("\n"),
    ...printed.map(({ stdout, stderr }) => stdout + stderr),
    ...(await Promise.all(pages.map((page) => page.text()))),
    ...textsIn(join(home, "state")),
  ].join("\n");
  expect(log.lines.length).toBeGreaterThan(0);
  for (const [file, secret] of Object.entries(SECRETS))
    for (const form of forms(secret)) expect(everything.includes(form), file).toBe(false);
}, 120_000);

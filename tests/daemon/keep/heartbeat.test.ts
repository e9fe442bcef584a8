import { createHmac } from "node:crypto";
import { once } from "node:events";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, expect, test } from "vitest";
import { systemClock } from "../../../daemon/clock.js";
import { SIGNATURE_HEADER, startHeartbeat } from "../../../daemon/keep/heartbeat.js";
import { openMemoryLog } from "../mqtt/desk.js";
import { until } from "../mqtt/until.js";

const SECRET = "sixteen or more characters";
const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

type Beat = Readonly<{ body: string; signature: string; method: string }>;

/** A receiver that answers as it is told. */
async function receiver(answer: (response: ServerResponse) => void) {
  const beats: Beat[] = [];
  const server = createServer(async (request: IncomingMessage, response) => {
    let body = "";
    for await (const chunk of request) body += chunk;
    const signature = String(request.headers[SIGNATURE_HEADER]);
    beats.push({ body, signature, method: request.method! });
    answer(response);
  });
  server.listen(0, "127.0.0.1");
  await once(server, "listening");
  closes.push(() => {
    server.closeAllConnections();
    return new Promise((resolve) => server.close(resolve));
  });
  return { beats, port: (server.address() as AddressInfo).port };
}

function start(port: number, turns = () => true) {
  const log = openMemoryLog();
  const troubles: Array<string | null> = [];
  const beating = startHeartbeat({
    heartbeat: { url: `http://127.0.0.1:${port}/beat/hidden-key`, secret: SECRET, everyMs: 50 },
    siteName: "Quillmere",
    clock: systemClock,
    log,
    turns,
    openExcursions: () => 2,
    trouble: (said) => troubles.push(said),
  });
  closes.push(() => beating.close());
  return { log, troubles };
}

test("each beat is signed and says when it was made", async () => {
  const { beats, port } = await receiver((response) => response.end());
  const { troubles } = start(port);
  await until("two beats came", () => beats.length >= 2);
  const [{ body, signature, method }] = beats as [Beat];
  expect(method).toBe("POST");
  expect(signature).toBe(createHmac("sha256", SECRET).update(body).digest("hex"));
  expect(JSON.parse(body)).toMatchObject({ site: "Quillmere", open: 2 });
  expect(Math.abs(Date.parse(JSON.parse(body).at) - Date.now())).toBeLessThan(60_000);
  expect(troubles).toEqual([]);
});

test("the signature is HMAC-SHA-256 as its standard has it", () => {
  // RFC 4231, section 4.3, test case 2.
  expect(createHmac("sha256", "Jefe").update("what do ya want for nothing?").digest("hex")).toBe(
    "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
  );
});

test("while a loop stands still nothing is sent", async () => {
  const { beats, port } = await receiver((response) => response.end());
  let looks = 0;
  let isTurning = false;
  start(port, () => {
    looks += 1;
    return isTurning;
  });
  await until("it has looked three times", () => looks >= 3);
  expect(beats).toEqual([]);
  isTurning = true;
  await until("it beats again", () => beats.length > 0);
});

test("a failure is logged and told once, without the address's path, and so is its end", async () => {
  let status = 503;
  const { beats, port } = await receiver((response) => response.writeHead(status).end("busy"));
  const { log, troubles } = start(port);
  await until("it failed three times", () => beats.length >= 3);
  status = 204;
  await until("it goes again", () => troubles.length === 2);
  expect(troubles).toEqual([`127.0.0.1:${port} answers 503`, null]);
  expect(log.lines).toHaveLength(2);
  expect(log.lines.join()).not.toMatch(/hidden-key|sixteen/);
});

test("a redirect is not followed, and nobody there is a failure with its reason", async () => {
  const other = await receiver((response) => response.end());
  const away = `http://127.0.0.1:${other.port}/`;
  const { port } = await receiver((response) => response.writeHead(307, { location: away }).end());
  const { troubles } = start(port);
  await until("it failed", () => troubles.length === 1);
  expect(other.beats).toEqual([]);
  // Port 9 (discard) is not listened on here.
  const { troubles: refused } = start(9);
  await until("it failed", () => refused.length === 1);
  expect(refused[0]).toContain("127.0.0.1:9");
});

test("an answer that never ends does not hold it up, nor does closing wait for it", async () => {
  const { beats, port } = await receiver((response) => {
    response.writeHead(200);
    response.write("and so on");
  });
  const { troubles } = start(port);
  await until("it beats on", () => beats.length >= 3);
  expect(troubles).toEqual([]);
});

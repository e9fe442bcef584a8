import { once } from "node:events";
import { type AddressInfo, createServer, type Server } from "node:net";
import { expect, onTestFinished, test, vi } from "vitest";
import { startPages } from "../../../daemon/web/page-server.js";
import { until } from "../mqtt/until.js";
import { servePages } from "./served.js";

/** Another program that listens, on a port of its own. */
async function listener(): Promise<{ server: Server; port: number }> {
  const server = createServer();
  server.listen(0, "127.0.0.1");
  await once(server, "listening");
  onTestFinished(() => void server.close());
  return { server, port: (server.address() as AddressInfo).port };
}

test("a port that is taken is said, and the pages are there once it is free", async () => {
  const { ports, logged } = servePages();
  const { server, port } = await listener();
  const pages = await startPages(ports, port, 20);
  onTestFinished(() => pages.close());
  expect(pages.address()).toBeNull();
  expect(logged[0]).toContain("PAGE_PORT_TAKEN");
  server.close();
  await until("pages are served", () => pages.address() !== null);
  expect((await fetch(pages.address()!)).status).toBe(200);
});

test("closing ends the trying", async () => {
  const { ports } = servePages();
  const { port } = await listener();
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  onTestFinished(() => void vi.useRealTimers());
  const pages = await startPages(ports, port);
  expect(vi.getTimerCount()).toBe(1);
  await pages.close();
  expect(vi.getTimerCount()).toBe(0);
});

test("an address of another machine is said with what is needed", async () => {
  // RFC 5737: 192.0.2.0/24 is for documents and belongs to no machine.
  const { ports, logged } = servePages({ host: "192.0.2.1" });
  const pages = await startPages(ports, 8377);
  await pages.close();
  expect(logged[0]).toMatch(/PAGE_LISTEN: .*192\.0\.2\.1:8377.*an address of this machine/);
});

test("pages that are open do not hold up the closing", async () => {
  const { ports } = servePages();
  const pages = await startPages(ports, 0);
  const address = pages.address()!;
  expect((await fetch(address)).status).toBe(200);
  await pages.close();
  expect(pages.address()).toBeNull();
  await expect(fetch(address)).rejects.toThrow();
});

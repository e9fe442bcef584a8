import type { AddressInfo } from "node:net";
import type { FastifyInstance } from "fastify";
import { KnownError } from "../../shared/errors.js";
import { HOUR_MS, SECOND_MS } from "../../shared/time.js";
import { openApp, type PagePorts } from "./app.js";

/** Pages being served, or about to be. */
export type PageServer = Readonly<{
  /** Where they are; null while the address cannot be listened on. */
  address(): string | null;
  close(): Promise<void>;
}>;

const FIRST_WAIT_MS = 15 * SECOND_MS;

/**
 * Serve the pages. Resolves once they are served, or once it was said why not; then it is tried
 * again after 15 s, 30 s and so on up to an hour, for the watch matters more than its pages.
 * Never rejects.
 */
export async function startPages(
  ports: PagePorts,
  port: number,
  firstWaitMs = FIRST_WAIT_MS,
): Promise<PageServer> {
  const { host } = ports.page;
  let app: FastifyInstance | null = null;
  let timer: NodeJS.Timeout | null = null;
  let waitMs = firstWaitMs;
  let isClosed = false;

  const tryToListen = async (): Promise<void> => {
    // One that failed to listen cannot be told to again.
    const fresh = openApp(ports);
    try {
      await fresh.listen({ host, port });
      if (isClosed) return await fresh.close();
      app = fresh;
      ports.log.info({ address: addressOf(fresh, host) }, "pages are served");
    } catch (error) {
      await fresh.close();
      if (isClosed) return;
      const { message } = explain(error, host, port);
      ports.log.error({ error: message }, "pages are not served yet; it is tried again");
      timer = setTimeout(tryToListen, waitMs);
      waitMs = Math.min(HOUR_MS, waitMs * 2);
    }
  };
  await tryToListen();
  return {
    address: () => (app === null ? null : addressOf(app, host)),
    close: async () => {
      isClosed = true;
      if (timer !== null) clearTimeout(timer);
      await app?.close();
      app = null;
    },
  };
}

function addressOf(app: FastifyInstance, host: string): string {
  const { port } = app.server.address() as AddressInfo;
  return `http://${host.includes(":") ? `[${host}]` : host}:${port}/`;
}

function explain(cause: unknown, host: string, port: number): KnownError {
  const { code, message } = cause as NodeJS.ErrnoException;
  return code === "EADDRINUSE"
    ? new KnownError(
        "PAGE_PORT_TAKEN",
        `serving pages at ${host}:${port}, where another program listens; choose another port for listen in [page]`,
        { cause },
      )
    : new KnownError(
        "PAGE_LISTEN",
        `serving pages at ${host}:${port}: ${message}; listen in [page] needs an address of this machine and a port from 1024 up`,
        { cause },
      );
}

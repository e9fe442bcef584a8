import { Agent, get } from "node:http";
import type { Store } from "../../../daemon/store/store.js";
import { STATIC_FILES } from "../../../daemon/web/look/static-files.js";
import { openPageSocket, pageConfig } from "../../page-socket.js";
import { keepOn, SITE } from "./season.js";

/** What one asking took, and what came. */
export type Answer = Readonly<{ ms: number; bytes: number }>;

/** Pages served over a real socket, and someone who asks for them. */
export type Served = Readonly<{
  /** Ten seconds go by, and every probe has spoken. */
  goOn(): void;
  ask(address: string): Promise<Answer>;
  close(): Promise<void>;
}>;

/** What a first visit fetches beside each page. */
export const STATIC_BYTES = STATIC_FILES.reduce(
  (sum, { text }) => sum + Buffer.byteLength(text),
  0,
);

/**
 * Serve the pages of a store from a moment on. Who asks is in the same process, so what asking costs
 * is in every figure.
 */
export async function servePages(store: Store, fromMs: number): Promise<Served> {
  let nowMs = fromMs;
  const { port, close } = await openPageSocket(store, pageConfig(SITE), () => nowMs);
  const agent = new Agent({ keepAlive: true, maxSockets: 1 });
  return {
    goOn: () => {
      nowMs += 10_000;
      keepOn(store, nowMs);
    },
    ask: (address) => fetchOnce(agent, port, address),
    close: async () => {
      agent.destroy();
      await close();
    },
  };
}

/** @param fromMs when it was first asked for: a form leads to its own address, which counts too */
function fetchOnce(
  agent: Agent,
  port: number,
  path: string,
  fromMs = performance.now(),
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = get({ agent, host: "127.0.0.1", port, path }, (response) => {
      const { statusCode, headers } = response;
      let bytes = 0;
      response.on("data", (part: Buffer) => {
        bytes += part.length;
      });
      response.on("end", () => {
        if (statusCode === 200) resolve({ ms: performance.now() - fromMs, bytes });
        else if (statusCode === 303 && headers.location !== path)
          resolve(fetchOnce(agent, port, headers.location!, fromMs));
        else reject(new Error(`${path} was answered with ${statusCode}`));
      });
    });
    request.on("error", reject);
  });
}

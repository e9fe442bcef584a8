import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openStore, type Store } from "../../../daemon/store/store.js";
import { MINUTE_MS } from "../../../shared/time.js";
import { openPageSocket, pageConfig } from "../../page-socket.js";
import { keepWinter, QUILLMERE } from "../../quillmere-winter.js";

/** Pages of an October at Quillmere, on a real socket. */
export type QuillmereServed = Readonly<{
  store: Store;
  nowMs: number;
  /** Where they are, without a slash at the end. */
  base: string;
  close(): Promise<void>;
}>;

/** The door is left ajar in the thirteenth day, and stands open an hour later still. */
const DAYS = 12.64;

const CONFIG = pageConfig(QUILLMERE);

/** Keep the October and serve it; the one who asks closes it. */
export async function serveQuillmere(passphrase: string | null = null): Promise<QuillmereServed> {
  const folder = mkdtempSync(join(tmpdir(), "drowse-pages-"));
  const store = openStore(folder, QUILLMERE);
  const nowMs = keepWinter(store, DAYS, CONFIG.keepers) + MINUTE_MS;
  const socket = await openPageSocket(store, CONFIG, () => nowMs, passphrase);
  const close = async () => {
    await socket.close();
    store.close();
    rmSync(folder, { recursive: true, force: true });
  };
  return { store, nowMs, base: socket.base, close };
}

import { spawnSync } from "node:child_process";
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import { openStore } from "../../daemon/store/store.js";
import { until } from "../daemon/mqtt/until.js";
import { openCardWatch } from "./card-watch.js";

/** A disk of its own in memory, so that it can be filled. */
function mountSmall(folder: string): boolean {
  return spawnSync("mount", ["-t", "tmpfs", "-o", "size=3m", "tmpfs", folder]).status === 0;
}

/** Whether this user may mount; root outside most containers. */
const mayMount = ((): boolean => {
  const folder = mkdtempSync(join(tmpdir(), "drowse-mount-"));
  const mounted = mountSmall(folder);
  if (mounted) spawnSync("umount", [folder]);
  rmSync(folder, { recursive: true });
  return mounted;
})();

/** Write until nothing more fits. */
function fill(file: string): void {
  const handle = openSync(file, "w");
  try {
    for (const block = Buffer.alloc(512); ; ) writeSync(handle, block);
  } catch (error) {
    expect((error as NodeJS.ErrnoException).code).toBe("ENOSPC");
  } finally {
    closeSync(handle);
  }
}

test.skipIf(!mayMount)(
  "on a full disk letters still go out, the keeper is told, and all is stored when there is room",
  async () => {
    const { folder, config, lines, keeping, inbox, subjects, publishWarmth } = await openCardWatch(
      (card) => {
        expect(mountSmall(card)).toBe(true);
        onTestFinished(() => void spawnSync("umount", [card]));
      },
    );
    fill(join(folder, "filler"));
    const kept = publishWarmth(1);
    await until("the cocoons are told of", () => subjects().some((s) => /: shed$/.test(s)), 30_000);
    await until(
      "the disk is told of",
      () => subjects().some((s) => s.startsWith("Free some room")),
      30_000,
    );
    expect(lines.filter((line) => line.startsWith("the store can't be written"))).toHaveLength(1);

    rmSync(join(folder, "filler"));
    await Promise.all(kept);
    await keeping.close();
    const store = openStore(folder, config.site, { mode: "look" });
    onTestFinished(() => store.close());
    expect([...store.readings.between("shed-air", 0, Infinity)]).toHaveLength(580);
    const posted = store.letters.between(0, Infinity);
    const told = inbox.arrived.map(({ mail }) => mail.messageId).sort();
    const marked = posted.filter(({ deliveries }) => deliveries.every((d) => d.sentAtMs !== null));
    // Each letter that is marked as sent went out once, those from memory among them.
    expect(told).toEqual(marked.map(({ letter }) => letter.messageId).sort());
    expect(marked.some(({ letter }) => letter.kind === "board")).toBe(true);
  },
  120_000,
);

import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import { showStanding } from "../../daemon/cli/now/show.js";
import { gatherStanding } from "../../daemon/cli/now/standing.js";
import type { Config } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { openStore } from "../../daemon/store/store.js";
import { until } from "../daemon/mqtt/until.js";
import { openCardWatch } from "./card-watch.js";

const run = (command: string, ...args: string[]) =>
  spawnSync(command, args, { encoding: "utf8", timeout: 20_000 });

/** A card of its own, which turns read-only when it finds itself damaged, as Linux sets one up. */
function openCard(folder: string) {
  const image = join(mkdtempSync(join(tmpdir(), "drowse-card-")), "card.img");
  writeFileSync(image, "");
  run("truncate", "-s", "64M", image);
  const made = run("mkfs.ext4", "-q", image).status === 0;
  const mount = () => run("mount", "-o", "loop,errors=remount-ro", image, folder).status === 0;
  const isMounted = made && mount();
  const device = basename(run("findmnt", "-n", "-o", "SOURCE", folder).stdout.trim());
  // The kernel's own way to try this: linux, Documentation/ABI/testing/sysfs-fs-ext4.
  const trigger = `/sys/fs/ext4/${device}/trigger_fs_error`;
  return {
    isThere: isMounted && existsSync(trigger),
    fail: () => writeFileSync(trigger, "1"),
    /** As a board does when it is switched off and on. */
    mountAgain: () => {
      run("umount", folder);
      return mount();
    },
    remove: () => {
      run("umount", folder);
      rmSync(dirname(image), { recursive: true });
    },
  };
}

/** Whether this user may mount a file as a card; root outside most containers. */
const mayMount = ((): boolean => {
  const folder = mkdtempSync(join(tmpdir(), "drowse-mount-"));
  const card = openCard(folder);
  card.remove();
  rmSync(folder, { recursive: true });
  return card.isThere;
})();

test.skipIf(!mayMount)(
  "on a card that turns read-only judging and letters go on, it is said, and a board that is switched off and on stores the rest",
  async () => {
    const { card, folder, config, clock, log, lines, keeping, subjects, publishWarmth } =
      await openCardWatch((empty) => {
        const laid = openCard(empty);
        onTestFinished(() => laid.remove());
        return laid;
      });
    card.fail();
    // Few enough to be said again one by one.
    const kept = publishWarmth(4);
    await until("the cocoons are told of", () => subjects().some((s) => /: shed$/.test(s)), 30_000);
    const isCard = (subject: string) => subject.startsWith("Look at the board's card");
    await until("the card is told of", () => subjects().some(isCard), 30_000);
    expect(lines.filter((line) => line.startsWith("the store can't be written"))).toEqual([
      expect.stringContaining("STORE_UNWRITABLE"),
    ]);
    const looked = openStore(folder, config.site, { mode: "look" });
    const standing = gatherStanding(looked, config.site, clock.nowMs());
    looked.close();
    expect(showStanding(standing, [], config.site, "C")).toMatch(
      /Nothing can be stored.*read-only/,
    );

    await keeping.close();
    await expect(startKeep(config, { clock, log })).rejects.toThrow(
      /^STORE_UNWRITABLE: .*drowse\.db lies on a file system that is read-only/,
    );
    expect(card.mountAgain()).toBe(true);
    const again = await startKeep(onPort(config, keeping.port!), { clock, log });
    onTestFinished(() => again.close());
    await Promise.all(kept);
    await again.close();
    const store = openStore(folder, config.site, { mode: "look" });
    onTestFinished(() => store.close());
    expect([...store.readings.between("shed-air", 0, Infinity)]).toHaveLength(1 + kept.length);
    expect(store.excursions.open().map(({ cause }) => cause)).toContain("cooling-lost");
  },
  120_000,
);

/** The same, where the sensor finds it again. */
function onPort(config: Config, port: number): Config {
  return { ...config, broker: { ...config.broker, port } as Config["broker"] };
}

import { isIPv6 } from "node:net";
import { MINUTE_MS, SECOND_MS } from "../../../shared/time.js";

type Bound = Readonly<{ most: number; oneMoreMs: number }>;

/**
 * Tries at the passphrase that stand open at once, and how long until one more does. Our choice:
 * a keeper with cold fingers has enough, and a guesser gets some thousands a day at most.
 */
const OF_ONE: Bound = { most: 5, oneMoreMs: 2 * MINUTE_MS };
const OF_ALL: Bound = { most: 30, oneMoreMs: 20 * SECOND_MS };
/** Addresses remembered; the one that tried longest ago makes room. */
const ADDRESSES = 1_000;

/** How many tries were made, as of when. */
type Spent = { tries: number; atMs: number };

/** Limits how often a passphrase can be tried, for each address and for all together. */
export type Tries = ReturnType<typeof openTries>;

/** @param nowMs a clock that never jumps, ms */
export function openTries(nowMs: () => number) {
  const byAddress = new Map<string, Spent>();
  const all: Spent = { tries: 0, atMs: nowMs() };

  function spentBy(address: string): Spent {
    const key = networkOf(address);
    const spent = byAddress.get(key) ?? { tries: 0, atMs: nowMs() };
    byAddress.delete(key);
    while (byAddress.size >= ADDRESSES) byAddress.delete(byAddress.keys().next().value!);
    byAddress.set(key, spent);
    return spent;
  }

  return {
    /**
     * Count one try before it is looked at, so that many at once are many.
     *
     * @returns 0 when it may be made, else the ms until one may
     */
    take(address: string): number {
      const one = spentBy(address);
      const waitMs = Math.max(waitFor(one, OF_ONE, nowMs()), waitFor(all, OF_ALL, nowMs()));
      if (waitMs > 0) return waitMs;
      one.tries += 1;
      all.tries += 1;
      return 0;
    },
    /** It was the right one: that address begins anew, and the try counts for nothing. */
    forgive(address: string): void {
      byAddress.delete(networkOf(address));
      all.tries = Math.max(0, all.tries - 1);
    },
  };
}

function waitFor(spent: Spent, { most, oneMoreMs }: Bound, nowMs: number): number {
  const back = Math.floor((nowMs - spent.atMs) / oneMoreMs);
  spent.tries = Math.max(0, spent.tries - back);
  spent.atMs += back * oneMoreMs;
  return spent.tries < most ? 0 : spent.atMs + oneMoreMs - nowMs;
}

/** Who has one IPv6 address has all 2^64 of its network (RFC 4291, section 2.5.4). */
function networkOf(address: string): string {
  if (!isIPv6(address) || address.includes(".")) return address;
  const [before = "", after] = address.split("::");
  const groups = before.split(":").filter((group) => group !== "");
  const known = groups.length + (after ?? "").split(":").filter((group) => group !== "").length;
  const zeros = after === undefined ? 0 : 8 - known;
  return [...groups, ...Array<string>(Math.max(0, zeros)).fill("0"), after].slice(0, 4).join(":");
}

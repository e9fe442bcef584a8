import { createHash, randomBytes } from "node:crypto";
import type { Typed } from "./form.js";
import type { Asking } from "./page.js";

/*
 * What a form says is written once, however often it is posted: by a double tap, by going back, by
 * a phone that sends again what it got no answer to. So the address of such a form holds a key, made
 * up when it is first asked for: a browser that goes back asks for that very address again.
 */

const NAME = "once";
const KEY = /^[0-9a-f]{32}$/;

/** The address of a form with a new key in it; null where it has one. */
export function keyedAddress(url: string, query: Typed): string | null {
  if (KEY.test(query[NAME] ?? "")) return null;
  const { [NAME]: _, ...others } = query;
  const key = randomBytes(16).toString("hex");
  return `${url.split("?")[0]}?${new URLSearchParams({ ...others, [NAME]: key })}`;
}

/** The key as a field that a keeper does not see; of a form with faults as it was posted. */
export function onceField(typed: Typed, { query }: Pick<Asking, "query">): Typed {
  const key = typed[NAME] ?? query[NAME] ?? "";
  return KEY.test(key) ? { [NAME]: key } : {};
}

/**
 * Take the key off what was posted.
 *
 * @returns what was typed, and an id of this very writing: of the key, of where it was posted and of
 *   all that was typed, so that a form that is changed after going back is written as well; null
 *   where it carried no key
 */
export function takeOnce(
  posted: Typed,
  asking: Pick<Asking, "parts" | "query">,
): Readonly<{ typed: Typed; onceId: string | null }> {
  const { [NAME]: key = "", ...typed } = posted;
  if (!KEY.test(key)) return { typed, onceId: null };
  const { [NAME]: _, ...query } = asking.query;
  const inOrder = [asking.parts, query, typed].map((one) => Object.entries(one).sort(byName));
  const digest = createHash("sha256").update(JSON.stringify([key, ...inOrder]));
  return { typed, onceId: digest.digest("hex") };
}

const byName = ([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number =>
  a < b ? -1 : 1;

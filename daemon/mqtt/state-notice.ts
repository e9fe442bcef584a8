import { formatRfc3339 } from "../../shared/rfc3339.js";

/** How Drowse is: it keeps watch, its loops stand still, or it has gone. */
export type DrowseState = "keeping" | "stuck" | "gone";

/**
 * What stands on Drowse's state topic: JSON with `state` and, where it is known, `since` (RFC 3339).
 *
 * The broker itself publishes "gone" when the connection breaks, long after this was written, so
 * that one has no time.
 */
export function stateText(state: DrowseState, atMs: number | null): string {
  return JSON.stringify(atMs === null ? { state } : { state, since: formatRfc3339(atMs) });
}

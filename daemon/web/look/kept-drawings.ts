import type { Markup } from "../../html.js";

/** Two chambers, wide and narrow, three winters each; some megabyte. Our choice. */
const MOST = 96;

const drawings = new Map<string, Markup>();

/**
 * A drawing that was made before of the same things, or else drawn now. A winter has months that
 * are over, and drawing them is the dearest part of its page. The drawing longest unasked goes
 * first.
 *
 * @param key as `contentKey` makes it, of all that is drawn and of how
 */
export function keptDrawing(key: string, draw: () => Markup): Markup {
  const drawing = drawings.get(key) ?? draw();
  drawings.delete(key);
  drawings.set(key, drawing);
  if (drawings.size > MOST) drawings.delete(drawings.keys().next().value!);
  return drawing;
}

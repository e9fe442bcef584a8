/// <reference lib="dom" />

/**
 * The one script of the pages, run in the browser: pointing at a moment of a picture, and moving
 * through time by keyboard. Pages say and do everything without it.
 *
 * It is sent as its own source text, so it may use nothing from outside itself.
 */
export function walkInTime(): void {
  // Pictures are not drawn yet; what they will need comes with them.
}

import { toPng } from "./to-png.js";

/*
 * Draws one picture and ends. A process of its own, for fonts and pixels take 20 MB that a process
 * never gives back whole, and what breaks in native code breaks nothing but the picture. Started by
 * `draw-apart.ts`.
 */

/** What is to be drawn. */
export type DrawingAsked = Readonly<{ svg: string; widthPx: number }>;

/** The picture, or why there is none. */
export type DrawingAnswer = Readonly<{ png: Uint8Array } | { fault: string }>;

async function answerTo({ svg, widthPx }: DrawingAsked): Promise<DrawingAnswer> {
  try {
    return { png: await toPng(svg, widthPx) };
  } catch (error) {
    return { fault: error instanceof Error ? error.message : String(error) };
  }
}

process.once("message", (asked: DrawingAsked) => {
  void answerTo(asked).then((answer) => process.send?.(answer, () => process.disconnect()));
});

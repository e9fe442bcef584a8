import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { MINUTE_MS } from "../../shared/time.js";
import type { Markup } from "../html.js";
import type { DrawingAnswer, DrawingAsked } from "./drawing-process.js";

const DRAWING = fileURLToPath(new URL("./drawing-process.js", import.meta.url));

/** A small board takes some seconds; our choice. A letter must not wait longer for its picture. */
const WAIT_MOST_MS = MINUTE_MS;

/**
 * What `toPng` draws, drawn by a process that ends with it.
 *
 * @param widthPx width of the image in its own pixels
 * @throws {Error} by rejecting: what `toPng` says of a drawing, that no process could be started,
 *   that it ended without an answer, or that it took longer than a minute
 */
export function drawApart(svg: Markup | string, widthPx: number): Promise<Buffer> {
  const child = fork(DRAWING, { serialization: "advanced", execArgv: [], timeout: WAIT_MOST_MS });
  return new Promise((resolve, reject) => {
    child.once("message", (answer: DrawingAnswer) => {
      if ("png" in answer) resolve(Buffer.from(answer.png));
      else reject(new Error(answer.fault));
    });
    child.on("error", reject);
    // Comes after all that was said, which its exit need not.
    child.once("disconnect", () => reject(new Error("the process that draws gave no answer")));
    const asked: DrawingAsked = { svg: svg.toString(), widthPx };
    child.send(asked, (error) => {
      if (error !== null) reject(error);
    });
  });
}

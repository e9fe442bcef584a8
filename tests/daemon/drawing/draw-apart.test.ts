import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { drawApart } from "../../../daemon/drawing/draw-apart.js";
import { toPng } from "../../../daemon/drawing/to-png.js";

const SQUARE =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M1 1h8v8z"/></svg>';

/** Processes that this one has started and that still run (proc(5), field 4 of `stat`). */
const children = (): string[] =>
  readdirSync("/proc").filter((id) => {
    try {
      const [, parent] = /\) \S (\d+) /.exec(readFileSync(`/proc/${id}/stat`, "utf8")) ?? [];
      return parent === String(process.pid);
    } catch {
      return false;
    }
  });

test("a picture drawn by another process is the one that is drawn here, and the process is gone", async () => {
  const before = children();
  const drawing = drawApart(SQUARE, 40);
  const [drawer] = children().filter((id) => !before.includes(id));
  expect(drawer).toBeDefined();
  expect(await drawing).toEqual(await toPng(SQUARE, 40));
  await expect.poll(() => children().includes(drawer!)).toBe(false);
});

test("what is no drawing is refused with what the library says of it", async () => {
  const said = await toPng("<svg", 40).catch(({ message }: Error) => message);
  expect(said).not.toBe("");
  await expect(drawApart("<svg", 40)).rejects.toThrow(String(said));
});

test("a process that is killed while it draws leaves no picture, and no hanging letter", async () => {
  const before = children();
  const drawing = drawApart(SQUARE, 40);
  const [drawer] = children().filter((id) => !before.includes(id));
  process.kill(Number(drawer), "SIGKILL");
  await expect(drawing).rejects.toThrow("gave no answer");
});

import { expect, test } from "vitest";
import { openClosingStack } from "../../../daemon/keep/closing-stack.js";
import { openMemoryLog } from "../mqtt/desk.js";

test("what was opened last is closed first, once", async () => {
  const closed: string[] = [];
  const stack = openClosingStack(openMemoryLog());
  for (const name of ["store", "intake", "broker"])
    stack.add(name, () => {
      closed.push(name);
    });
  await Promise.all([stack.closeAll(), stack.closeAll()]);
  expect(closed).toEqual(["broker", "intake", "store"]);
});

test("a step that fails or hangs is said, and the rest is closed all the same", async () => {
  const closed: string[] = [];
  const log = openMemoryLog();
  const stack = openClosingStack(log, 20);
  stack.add("the store", () => {
    closed.push("store");
  });
  stack.add("the mail server", () => new Promise<void>(() => {}));
  stack.add("the broker", () => {
    throw new Error("is gone");
  });
  await stack.closeAll();
  expect(closed).toEqual(["store"]);
  expect(log.lines).toEqual([
    expect.stringMatching(/^closing the broker failed.*is gone/),
    expect.stringMatching(/^closing the mail server failed.*not done within 20 ms/),
  ]);
});

import { afterAll, beforeAll, expect, vi } from "vitest";
import { browserTest, openPage, seriousFindings } from "../../browser.js";
import { type QuillmereServed, serveQuillmere } from "./quillmere-served.js";

// A browser on a small board that does other things as well takes its time.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const SECRET = "blue mason, red hawthorn";
let served: QuillmereServed;
beforeAll(async () => {
  served = await serveQuillmere(SECRET);
});
afterAll(() => served.close());

browserTest(
  "a link leads by way of the passphrase to its page, and later straight on",
  async () => {
    const { page, complaints } = await openPage();
    const link = `data:text/html,<title>mail</title><a href="${served.base}/probes">Look</a>`;
    await page.goto(link);
    await page.getByRole("link").click();
    await page.waitForURL(/\/enter\?next=%2Fprobes/);
    expect(await seriousFindings(page)).toEqual([]);
    await page.getByLabel("Passphrase").fill("something else");
    await page.keyboard.press("Enter");
    await page.getByText("That is not it.").first().waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    await page.getByLabel("Passphrase").fill(SECRET);
    await page.getByRole("button", { name: "Go in" }).click();
    expect(await page.locator("h1").textContent()).toBe("Probes");
    // From another site the browser keeps the cookie back at first (SameSite=Strict).
    await page.goto(link);
    await page.getByRole("link").click();
    await page.waitForURL(`${served.base}/probes`);
    expect(await page.locator("h1").textContent()).toBe("Probes");
    expect(await page.evaluate("document.cookie")).toBe("");
    await page.getByRole("button", { name: "Lock these pages here" }).click();
    await page.waitForURL(/\/enter/);
    await page.goto(`${served.base}/probes`);
    await page.waitForURL(/\/enter/);
    expect(complaints.filter((words) => !words.includes("403"))).toEqual([]);
  },
);

browserTest("a page elsewhere can neither frame these pages nor post to them", async () => {
  const { page } = await openPage();
  await page.goto(`${served.base}/enter`);
  await page.getByLabel("Passphrase").fill(SECRET);
  await page.keyboard.press("Enter");
  await page.waitForURL(`${served.base}/`);
  const [open] = served.store.excursions.open();
  const action = `${served.base}/excursion/${open!.id}`;
  await page.goto(
    `data:text/html,<title>evil</title><iframe src="${served.base}/"></iframe><form method="post" action="${action}"><button>Win</button></form>`,
  );
  expect(await page.frames()[1]!.locator("body").textContent()).not.toMatch(/Quillmere|cocoons/);
  await page.getByRole("button").click();
  await page.waitForURL(action);
  expect(await page.locator("body").textContent()).toContain("did not come from a page of ours");
  expect(served.store.excursions.get(open!.id)!.acknowledgedAtMs).toBeNull();
});

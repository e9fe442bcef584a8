import { existsSync } from "node:fs";
import axe from "axe-core";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, onTestFinished, test } from "vitest";

/*
 * A real Chromium for tests named `*.browser.test.ts`. `npm test` brings it through apt where it
 * may; where there is none these tests are skipped, but never with CI=true.
 */

const CHROMIUM = process.env.DROWSE_CHROMIUM ?? "/usr/bin/chromium";

const ARGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // Only this machine has a name and an address: what reaches for another one fails at once.
  "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
];

/** `test` where there is a browser, or where there must be one; otherwise `test.skip`. */
export const browserTest = existsSync(CHROMIUM) || process.env.CI === "true" ? test : test.skip;

let browser: Promise<Browser> | null = null;

afterAll(async () => {
  await (await browser)?.close();
  browser = null;
});

/** A page, and what went wrong on it. */
export type OpenPage = Readonly<{
  page: Page;
  /** Errors and warnings of the console, and uncaught errors. */
  complaints: string[];
  /** Addresses of other machines that something on the page asked for. */
  strangers: string[];
}>;

/** A fresh page in a profile of its own, closed after the test. One browser serves a test file. */
export async function openPage(options: BrowserContextOptions = {}): Promise<OpenPage> {
  browser ??= chromium.launch({ executablePath: CHROMIUM, headless: true, args: ARGS });
  const context = await (await browser).newContext(options);
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const complaints: string[] = [];
  const strangers: string[] = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("request", (request) => {
    if (!/^(https?:\/\/127\.0\.0\.1[:/]|data:|file:|about:|blob:)/.test(request.url()))
      strangers.push(request.url());
  });
  return { page, complaints, strangers };
}

/**
 * What axe-core calls serious or critical on a page, one line each: rule, words, first element.
 * Evaluated by the debugger, so that a page's content security policy stays as it is.
 */
export async function seriousFindings(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(() =>
    (globalThis as unknown as { axe: typeof axe }).axe.run(),
  );
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, help, nodes }) => `${id}: ${help}: ${nodes[0]?.html ?? ""}`);
}

import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "playwright-core";
import { openDraft } from "../../daemon/journal/draft.js";
import { openStore, type Store } from "../../daemon/store/store.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { openPageSocket, pageConfig } from "../page-socket.js";
import { AUTUMN_MS, keepWinter, QUILLMERE } from "../quillmere-winter.js";

/*
 * Makes README's pictures of the pages anew, from the demo winter of Quillmere, in a browser.
 * DROWSE_CHROMIUM says where that is.
 */

const FOLDER = fileURLToPath(new URL("../../../deploy/pictures/", import.meta.url));
const CHROMIUM = process.env.DROWSE_CHROMIUM ?? "/usr/bin/chromium";
const FRIDGE = "middling";
const MOST_BYTES = 120_000;

/** Days from autumn on at which there is something to see: a door just left ajar, and a winter. */
const DOOR_DAYS = 12.64;
const WINTER_DAYS = 140;

const NOVEMBER = "figure svg >> nth=1";

type Shot = Readonly<{
  file: string;
  address: string;
  widthPx: number;
  /** Pixels of the picture for one of the page. */
  scale: number;
  /** The element that is shown from its top down, as wide as it is and so high. */
  shown: string;
  heightPx: number;
}>;

async function drawAll(days: number, shotsOf: (store: Store) => readonly Shot[]): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "drowse-pictures-"));
  const store = openStore(folder, QUILLMERE);
  const nowMs = keepWinter(store, days, [], FRIDGE) + MINUTE_MS;
  keepJournal(store, nowMs);
  const { base, close } = await openPageSocket(store, pageConfig(QUILLMERE), () => nowMs);
  const browser = await chromium.launch({ executablePath: CHROMIUM, args: ["--no-sandbox"] });
  for (const shot of shotsOf(store)) await draw(browser, base, shot);
  await browser.close();
  await close();
  store.close();
  rmSync(folder, { recursive: true, force: true });
}

async function draw(browser: Browser, base: string, shot: Shot): Promise<void> {
  const { file, address, widthPx, scale, shown, heightPx } = shot;
  const page = await browser.newPage({
    viewport: { width: widthPx, height: heightPx },
    deviceScaleFactor: scale,
    locale: "en-GB",
    // As a phone says it, so that pictures are drawn for one.
    ...(widthPx < 600 && { userAgent: "Mozilla/5.0 (Linux; Android 14) Mobile" }),
  });
  await page.goto(base + address);
  const box = (await page.locator(shown).first().boundingBox())!;
  const clip = { ...box, height: heightPx };
  const picture = await page.screenshot({ fullPage: true, clip });
  await page.close();
  writeFileSync(join(FOLDER, file), picture);
  const { size } = statSync(join(FOLDER, file));
  console.log(`${file} ${Math.round(size / 1_000)} kB`);
  if (size >= MOST_BYTES)
    throw new Error(`${file} has ${size} bytes, expected under ${MOST_BYTES}`);
}

/** A lot, and what its keeper did; of a short winter only what lies in it. */
function keepJournal({ journal }: Store, nowMs: number): void {
  const on = (day: number) => new Date(AUTUMN_MS + day * DAY_MS + 15 * HOUR_MS).toISOString();
  const deeds = [
    { day: 20, deed: "damped", words: "three drops" },
    { day: 41, deed: "damped" },
    { day: 60, deed: "inspected", saw: "nothing" },
    { day: 60, deed: "weighed", lot: "hedge-2026", mass_g: "3.21", cocoons: "30" },
    { day: 83, deed: "damped" },
    { day: 112, deed: "inspected", saw: "mites" },
  ];
  journal.write(nowMs, (soFar) => {
    const draft = openDraft(QUILLMERE, soFar, nowMs);
    const lot = { lot: "hedge-2026", large: "80", small: "120", chamber: "shed" };
    draft.addLot({ ...lot, in: on(8).slice(0, 10) });
    for (const { day, ...typed } of deeds)
      if (AUTUMN_MS + (day + 1) * DAY_MS < nowMs) {
        const faults = draft.addEntry({ ...typed, on: on(day).slice(0, 10) });
        if (faults !== null) throw new Error(JSON.stringify(faults));
      }
    return draft.batch();
  });
}

await drawAll(DOOR_DAYS, () => [
  { file: "page-now.png", address: "/", widthPx: 390, scale: 1.5, shown: "body", heightPx: 790 },
]);
await drawAll(WINTER_DAYS, ({ excursions }) => {
  const lost = excursions
    .mattering(AUTUMN_MS, AUTUMN_MS + WINTER_DAYS * DAY_MS)
    .find(({ cause }) => cause === "cooling-lost")!;
  const wide = { widthPx: 1_100, scale: 1 };
  const story = `/excursion/${lost.id}`;
  return [
    // Two months: a whole winter is too large for a page that is read in passing.
    { ...wide, file: "page-winter.png", address: "/winter", shown: NOVEMBER, heightPx: 645 },
    { ...wide, file: "page-excursion.png", address: story, shown: "figure svg", heightPx: 465 },
  ];
});

import { html, type Markup } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import { ENTER, LEAVE } from "../address.js";
import { setDeed } from "../form.js";
import type { Asking, Shown } from "../page.js";
import { wordsFor } from "../words.js";
import { MARK_FILE, SCRIPT_FILE, STYLE_FILE } from "./static-files.js";

/** A word of the running head, and where it leads. */
export type HeadWord = Readonly<{ word: string; address: string }>;

/** What surrounds a page, beside the page itself. */
export type Surround = Readonly<{
  head: readonly HeadWord[];
  /** The address asked for. */
  here: string;
  /** Whether there is a session that can be ended. */
  canLeave: boolean;
}>;

/** A whole page: the running head, what is shown, and whose times are meant. */
export function setPage(shown: Shown, asking: Asking, surround: Surround): string {
  const { site } = asking.config;
  const name = oneLine(site.name);
  return html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${oneLine(shown.title)}, ${name}</title>
<link rel="icon" type="image/svg+xml" href="${MARK_FILE.address}">
<link rel="stylesheet" href="${STYLE_FILE.address}">
<script src="${SCRIPT_FILE.address}" defer></script>
</head>
<body>
<a class="skip" href="#page">Skip to the page</a>
<header class="head">
<p>${name}</p>
${setHead(surround)}</header>
<main id="page" tabindex="-1">
${setSteps(shown)}${shown.main}</main>
<footer class="foot">
<p>As of ${wordsFor(asking).moment(asking.nowMs)}. Times are those of ${oneLine(site.timezone)}.</p>
${surround.canLeave && setDeed(LEAVE, {}, "Lock these pages here")}</footer>
</body>
</html>
`.toString();
}

function setHead({ head, here }: Surround): Markup | null {
  if (head.length === 0) return null;
  const isHere = (address: string) =>
    address === "/" ? here === "/" : here === address || here.startsWith(`${address}/`);
  const words = head.map(
    ({ word, address }) =>
      html`<li><a href="${address}"${isHere(address) && html` aria-current="page"`}>${word}</a></li>\n`,
  );
  return html`<nav aria-label="Pages"><ul>
${words}</ul></nav>
`;
}

function setSteps({ earlier, later }: Shown): Markup | null {
  if (!earlier && !later) return null;
  const before = earlier && html`<a rel="prev" href="${earlier.address}">${earlier.words}</a>\n`;
  const after = later && html`<a rel="next" href="${later.address}">${later.words}</a>\n`;
  return html`<nav class="steps" aria-label="Through time">
${before}${after}</nav>
`;
}

/** A page for whom nothing of the site is shown, not even its name. */
export function setLocked(main: Markup, goOnTo: string | null = null): string {
  const refresh = goOnTo && html`<meta http-equiv="refresh" content="0;url=${goOnTo}">\n`;
  return html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="color-scheme" content="light dark">
${refresh}<title>Locked pages</title>
<link rel="icon" type="image/svg+xml" href="${MARK_FILE.address}">
<link rel="stylesheet" href="${STYLE_FILE.address}">
</head>
<body>
<main>
<h1>These pages are locked</h1>
${main}</main>
</body>
</html>
`.toString();
}

/**
 * What someone without a session gets: a page that goes on to the one that asks for the passphrase.
 *
 * A browser that follows a link from a letter keeps the session's cookie back, since it comes from
 * another site (SameSite=Strict). Going on from this page of ours it sends it, and who has a
 * session is let in without being asked.
 */
export function setWayIn(next: string): string {
  const address = `${ENTER}?next=${encodeURIComponent(next)}`;
  return setLocked(html`<p><a href="${address}">Go on to the passphrase</a></p>\n`, address);
}

import { html, type Markup } from "../html.js";
import { type Hatch, hatched } from "./hatching.js";
import { inkOf, QUIET } from "./inks.js";
import type { Look } from "./look.js";
import { round, textPx, written } from "./text.js";

const SIZE_PX = 11;
const LINE_PX = 17;
const SWATCH_PX = 18;

const MEANINGS: Readonly<Record<Hatch, string>> = {
  warm: "warmer than the band",
  cold: "colder",
  damp: "damper",
  dry: "drier",
  unseen: "not seen",
};

/** What each hatching in a picture means, in lines as long as fit; from y down. */
export function drawLegend(
  hatches: readonly Hatch[],
  extras: readonly Readonly<{ sign: (x: number, y: number) => Markup; words: string }>[],
  look: Look,
  at: Readonly<{ x: number; y: number }>,
): Readonly<{ heightPx: number; markup: Markup }> {
  const items = [
    ...hatches.map((hatch) => ({
      words: MEANINGS[hatch],
      sign: (x: number, y: number) =>
        html`<rect x="${round(x)}" y="${round(y - 9)}" width="${SWATCH_PX - 4}" height="10" fill="${hatched(look.idPrefix, hatch)}" stroke="${hatch === "unseen" ? QUIET : inkOf(hatch)}" stroke-width=".7"/>`,
    })),
    ...extras,
  ];
  let [x, y] = [at.x, at.y + SIZE_PX];
  const drawn = items.map(({ words, sign }) => {
    const wide = SWATCH_PX + textPx(words, SIZE_PX) + 12;
    if (x + wide > look.widthPx && x > at.x) [x, y] = [at.x, y + LINE_PX];
    const here = x;
    x += wide;
    return html`${sign(here, y)}${written(words, here + SWATCH_PX, y, { ink: QUIET })}`;
  });
  return { heightPx: y - at.y + 6, markup: html`${drawn}` };
}

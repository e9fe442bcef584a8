import type { Address, Look } from "../../drawing/look.js";
import type { Stretch } from "../../drawing/material.js";
import { html, type Markup } from "../../html.js";
import { excursionAddress, winterAddress } from "../address.js";
import type { Asking } from "../page.js";

const WIDE_PX = 1_040;
/** Between phones of 320 and of 390 px; on both it is set to their width. */
const NARROW_PX = 320;

/** How a picture is drawn for the one who asks. */
export function lookFor({ config, hourCycle, isNarrow }: Asking, idPrefix: string): Look {
  const { timezone } = config.site;
  const dayOf = openDayNames(timezone);
  return {
    widthPx: isNarrow ? NARROW_PX : WIDE_PX,
    timezone,
    unit: config.temperatureUnit,
    hourCycle,
    idPrefix,
    hrefOf: (address) => hrefOf(address, dayOf),
  };
}

function hrefOf(address: Address, dayOf: (atMs: number) => string): string {
  if (address.kind === "excursion") return excursionAddress(address.id);
  const day = dayOf(address.atMs);
  return winterAddress(address.chamberId, address.kind === "day" ? day : day.slice(0, 7));
}

/** Names days as addresses do, 2026-01-11. A sheet has 180 of them; `localDay` takes 0.2 ms each. */
function openDayNames(timezone: string): (atMs: number) => string {
  const numbers = { year: "numeric", month: "2-digit", day: "2-digit" } as const;
  const format = new Intl.DateTimeFormat("en-GB", { ...numbers, timeZone: timezone });
  return (atMs) => {
    const parts = format.formatToParts(atMs);
    const of = (type: string) => parts.find((part) => part.type === type)?.value ?? "";
    return `${of("year")}-${of("month")}-${of("day")}`;
  };
}

/** What a picture stands with on a page. */
export type Framed = Readonly<{
  /** The drawing, or its parts in their order. */
  svgs: readonly Markup[];
  /** What is pointed at: the days of a winter sheet, or the rows of the table along a course. */
  pointing: Readonly<{ along: Stretch; leftPx: number; rightPx: number }> | "days";
  /** The figures behind it, as `setTable` makes them. */
  table: Markup;
}>;

/** A picture, with the table behind it. What the script needs to know stands in `data-`. */
export function setPicture({ svgs, pointing, table }: Framed, asking: Asking): Markup {
  const data =
    pointing === "days"
      ? html` data-days`
      : html` data-from="${pointing.along.fromMs}" data-to="${pointing.along.toMs}" data-left="${pointing.leftPx}" data-right="${pointing.rightPx}"`;
  const other = asking.isNarrow
    ? html`<a href="?drawn=wide">Draw it for a wide page</a>`
    : html`<a href="?drawn=narrow">Draw it for a narrow page</a>`;
  return html`<div class="plate">
<figure${data}>
<div class="scroll">${svgs}</div>
</figure>
<details><summary>The figures as a table</summary>
${table}</details>
<p class="small quiet unprinted">${other}</p>
</div>
`;
}

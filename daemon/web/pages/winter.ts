import type { Chamber } from "../../../shared/site.js";
import { drawWinterStaves } from "../../drawing/winter-sheet.js";
import { html, type Markup } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import { gatherWinter } from "../../season/gather-winter.js";
import { reviewOf } from "../../season/review.js";
import { keptWinters, type Winter } from "../../season/winters.js";
import { winterAddress } from "../address.js";
import { keptDrawing } from "../look/kept-drawings.js";
import { lookFor, setPicture } from "../look/picture.js";
import type { Asking, Page, Shown } from "../page.js";
import { setExcursions } from "./excursion-table.js";
import { showMonthOrDay } from "./month-or-day.js";
import { readSpan } from "./span.js";
import { setMonthTable, setWhole } from "./winter-figures.js";

/** The winter of the first chamber; its page leads to the others. */
export const WINTERS_PAGE: Page = {
  path: "/winter",
  word: "Winter",
  show(asking) {
    const [first] = asking.config.site.chambers;
    return first === undefined ? null : showWinter(first, null, asking);
  },
};

export const WINTER_PAGE: Page = {
  path: "/winter/:chamber",
  show(asking) {
    const chamber = chamberOf(asking);
    return chamber === null ? null : showWinter(chamber, null, asking);
  },
};

/** A winter by the year in which it began, a month, or a day. */
export const WINTER_PART_PAGE: Page = {
  path: "/winter/:chamber/:span",
  show(asking) {
    const chamber = chamberOf(asking);
    const { span: name = "" } = asking.parts;
    if (chamber === null) return null;
    if (/^20\d\d$/.test(name)) return showWinter(chamber, Number(name), asking);
    const span = readSpan(name, asking.config.site.timezone);
    return span === null ? null : showMonthOrDay(chamber, span, asking);
  },
};

function chamberOf({ config, parts }: Asking): Chamber | null {
  return config.site.chambers.find(({ id }) => id === parts.chamber) ?? null;
}

/** @param year null for the newest; another that was not kept is no page */
function showWinter(chamber: Chamber, year: number | null, asking: Asking): Shown | null {
  const { config, store, nowMs } = asking;
  const winters = keptWinters(store, config.site, chamber);
  const at = year === null ? winters.length - 1 : winters.findIndex((one) => one.year === year);
  const winter = winters[at];
  if (winter === undefined) return year === null ? showNothing(chamber, asking) : null;
  const look = lookFor(asking, "sheet");
  const material = gatherWinter(store, config.site, chamber, winter, nowMs);
  const review = reviewOf(material, config.site.timezone);
  const table = setMonthTable(chamber, review, look);
  const stepTo = (other: Winter | undefined) =>
    other === undefined
      ? null
      : { address: winterAddress(chamber.id, String(other.year)), words: winterName(other) };
  return {
    title: `The winter of ${winterName(winter)}, ${chamber.id}`,
    main: html`<h1>The winter of ${winterName(winter)}</h1>
${setChambers(chamber, asking)}<p class="unprinted">Every month's name leads to its own page${asking.isNarrow ? "" : ", and so does every day"}.</p>
${setPicture({ svgs: drawWinterStaves(material, look, keptDrawing), pointing: "days", table }, asking)}<h2>In figures</h2>
${setWhole(review, look)}${setExcursions(material, asking)}`,
    earlier: stepTo(winters[at - 1]),
    later: stepTo(winters[at + 1]),
  };
}

const winterName = ({ year }: Winter): string => `${year} to ${year + 1}`;

function showNothing(chamber: Chamber, asking: Asking): Shown {
  return {
    title: `Winter, ${chamber.id}`,
    main: html`<h1>No winter yet</h1>
${setChambers(chamber, asking)}<p>Nothing was measured in ${oneLine(chamber.id, 60)} so far.</p>
`,
  };
}

/** Which chamber it is; the others as links. */
function setChambers(chamber: Chamber, { config }: Asking): Markup {
  const { chambers } = config.site;
  const words = chambers.map(({ id }) =>
    id === chamber.id
      ? html`<strong>${oneLine(id, 60)}</strong> `
      : html`<a href="${winterAddress(id)}">${oneLine(id, 60)}</a> `,
  );
  return html`<p>${words}</p>
`;
}

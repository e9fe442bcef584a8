import { DAY_MS } from "../../shared/time.js";
import type { Config } from "../config.js";
import { drawCourse } from "../drawing/course-picture.js";
import { drawApart } from "../drawing/draw-apart.js";
import type { LetterPicture } from "../letters/letter-picture.js";
import { type CourseStore, gatherCourse } from "../season/gather-course.js";
import type { NewLetter } from "../store/records.js";
import type { MailLog } from "./mail-trouble.js";

/** Draws a letter's pictures as PNG, in order; null for one that could not be drawn. */
export type DrawPictures = (letter: NewLetter) => Promise<readonly (Buffer | null)[]>;

/** Width of a drawing that a phone shows at its own size, and of its PNG, sharp on a desk too. */
const WIDTH_PX = 360;
const PNG_PX = 720;

/** Over a longer time the air's own swing would hide what the cocoons felt. */
const DAYS_WITH_AIR = 2;

/** For letters that are to go without pictures. */
export const drawNothing: DrawPictures = async () => [];

/**
 * Draw letters' pictures from what the store holds when they are sent. Nothing that goes wrong
 * here keeps a letter back: it is logged, and the letter goes without.
 */
export function pictureDrawer(
  store: CourseStore,
  config: Pick<Config, "site" | "temperatureUnit">,
  log: Pick<MailLog, "warn">,
): DrawPictures {
  // A letter goes to each keeper in turn, and again after a failure.
  let last: Readonly<{ letterId: string; pictures: readonly (Buffer | null)[] }> | null = null;
  return async ({ id, pictures }) => {
    if (last?.letterId === id) return last.pictures;
    const drawn: (Buffer | null)[] = [];
    for (const picture of pictures)
      drawn.push(
        await drawOne(picture, store, config).catch((error: unknown) => {
          log.warn({ letter: id, error: String(error) }, "a picture could not be drawn");
          return null;
        }),
      );
    last = { letterId: id, pictures: drawn };
    return drawn;
  };
}

async function drawOne(
  { chamberId, fromMs, toMs, asOfMs }: LetterPicture,
  store: CourseStore,
  { site, temperatureUnit }: Pick<Config, "site" | "temperatureUnit">,
): Promise<Buffer | null> {
  const chamber = site.chambers.find(({ id }) => id === chamberId);
  // A chamber may have left the config since.
  if (chamber === undefined) return null;
  const material = gatherCourse(store, site, chamber, { fromMs, toMs }, asOfMs);
  if (material.cocoons.length === 0 && material.air.length === 0) return null;
  const isLong = toMs - fromMs > DAYS_WITH_AIR * DAY_MS;
  const svg = drawCourse(isLong ? { ...material, air: [] } : material, {
    widthPx: WIDTH_PX,
    timezone: site.timezone,
    unit: temperatureUnit,
    hourCycle: "h23",
    idPrefix: "letter",
    hrefOf: null,
  });
  return drawApart(svg, PNG_PX);
}

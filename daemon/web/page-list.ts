import type { Page } from "./page.js";
import { EXCURSION_PAGE } from "./pages/excursion.js";
import { LETTER_PAGE } from "./pages/letter.js";
import { LETTERS_PAGE } from "./pages/letters.js";
import { NOW_PAGE } from "./pages/now.js";
import { PROBES_PAGE } from "./pages/probes.js";
import { WINTER_PAGE, WINTER_PART_PAGE, WINTERS_PAGE } from "./pages/winter.js";

/** Every page, in the order of the running head. */
export const PAGES: readonly Page[] = [
  NOW_PAGE,
  WINTERS_PAGE,
  WINTER_PAGE,
  WINTER_PART_PAGE,
  PROBES_PAGE,
  LETTERS_PAGE,
  LETTER_PAGE,
  EXCURSION_PAGE,
];

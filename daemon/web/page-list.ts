import type { Page } from "./page.js";
import { DUE_PAGE } from "./pages/due.js";
import { EXCURSION_PAGE } from "./pages/excursion.js";
import { JOURNAL_PAGE } from "./pages/journal.js";
import { JOURNAL_WRITE_PAGE } from "./pages/journal-write.js";
import { LETTER_PAGE } from "./pages/letter.js";
import { LETTERS_PAGE } from "./pages/letters.js";
import { LOT_PAGE } from "./pages/lot.js";
import { LOT_CHANGE_PAGE, NEW_LOT_PAGE } from "./pages/lot-form.js";
import { LOTS_PAGE } from "./pages/lots.js";
import { NOW_PAGE } from "./pages/now.js";
import { PROBES_PAGE } from "./pages/probes.js";
import { WINTER_PAGE, WINTER_PART_PAGE, WINTERS_PAGE } from "./pages/winter.js";

/** Every page, in the order of the running head. */
export const PAGES: readonly Page[] = [
  NOW_PAGE,
  WINTERS_PAGE,
  WINTER_PAGE,
  WINTER_PART_PAGE,
  DUE_PAGE,
  LOTS_PAGE,
  NEW_LOT_PAGE,
  LOT_PAGE,
  LOT_CHANGE_PAGE,
  JOURNAL_PAGE,
  JOURNAL_WRITE_PAGE,
  PROBES_PAGE,
  LETTERS_PAGE,
  LETTER_PAGE,
  EXCURSION_PAGE,
];

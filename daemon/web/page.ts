import type { Config } from "../config.js";
import type { Markup } from "../html.js";
import type { HourCycle } from "../letters/time-words.js";
import type { Store } from "../store/store.js";
import type { Typed } from "./form.js";

/** Of a config, what pages read. */
export type PageConfig = Pick<
  Config,
  "site" | "sources" | "temperatureUnit" | "mail" | "keepers" | "year" | "release"
>;

/** Who asks for a page, of what, and when. */
export type Asking = Readonly<{
  config: PageConfig;
  store: Store;
  nowMs: number;
  /** How the reader's locale counts hours. */
  hourCycle: HourCycle;
  /** Whether pictures are to be drawn for a phone. */
  isNarrow: boolean;
  /** Parts of the address by their names in `Page.path`, decoded; `*` is all that stands there. */
  parts: Readonly<Record<string, string>>;
  /** What stands after the question mark; the first value of each name. */
  query: Readonly<Record<string, string>>;
}>;

/** A page as it is to be shown. */
export type Shown = Readonly<{
  /** For the window, and the heading where `main` has none of its own. */
  title: string;
  main: Markup;
  /** An HTTP status other than 200. */
  status?: number;
  /** The same view a step earlier and later in time. */
  earlier?: Step | null;
  later?: Step | null;
}>;

/** A way through time: where it leads, and what is there. */
export type Step = Readonly<{ address: string; words: string }>;

/** What came of a post: go on to another page, or be shown this one with what is wrong. */
type Taken = Readonly<{ goTo: string }> | Shown;

/**
 * One page. To add one, write it into `pages/` and name it in `page-list.ts`; the shell, the
 * safety, the time and the running head come by themselves.
 */
export type Page = Readonly<{
  /** Its address, as fastify writes routes: `/winter/:chamber`, `/letter/*`. */
  path: string;
  /** Its word in the running head; pages without one are reached from others. */
  word?: string;
  /** null where there is no such thing. */
  show(asking: Asking): Shown | null;
  /** Whether its form writes something down, which must happen once however often it is posted. */
  writes?: true;
  /** Takes what a form of ours posted to the same address; null where there is no such thing. */
  take?(asking: Asking, typed: Typed): Taken | null;
}>;

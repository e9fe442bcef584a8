import type { Config } from "../config.js";
import type { LetterContext } from "../letters/letter-context.js";
import { mailDomainOf } from "../letters/message-id.js";
import type { NewLetter, Store } from "../store/store.js";
import { troubleLine } from "./trouble-line.js";

/** What letters of this site are composed with now; `earlier` are those of the same excursion. */
export function contextOf(
  { site, temperatureUnit, mail }: Pick<Config, "site" | "temperatureUnit" | "mail">,
  store: Store,
  atMs: number,
  earlier: readonly NewLetter[] = [],
): LetterContext {
  return {
    site,
    temperatureUnit,
    earlier,
    trouble: troubleLine(store, atMs, site.timezone),
    mailDomain: mailDomainOf(mail?.from ?? null),
  };
}

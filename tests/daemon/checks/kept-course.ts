import { takeInChecks } from "../../../daemon/checks/take-in.js";
import { JudgeSeat } from "../../../daemon/intake/judge-seat.js";
import { composeLetter } from "../../../daemon/letters/compose.js";
import type { LetterContext } from "../../../daemon/letters/letter-context.js";
import type { NewLetter, Store } from "../../../daemon/store/store.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import { NOTHING } from "../store/temporary-store.js";

export const KEEPERS = ["keeper@example.org"];

const GROUP = 5_000;

/** Everything that letters at Quillmere are composed with. */
export const contextFor = (site: Site, earlier: readonly NewLetter[] = []): LetterContext => ({
  site,
  temperatureUnit: "C",
  earlier,
  trouble: null,
});

/** Keep and judge readings as a watch would have that was there all the time. */
export function keepCourse(store: Store, site: Site, readings: readonly Reading[]): JudgeSeat {
  const seat = new JudgeSeat(site);
  for (let from = 0; from < readings.length; from += GROUP) {
    const some = readings.slice(from, from + GROUP);
    const findings: Finding[] = [];
    const cocoons: Reading[] = [];
    for (const reading of some) {
      findings.push(...seat.hear(reading));
      cocoons.push(...seat.cocoons());
    }
    const letters: NewLetter[] = [];
    for (const finding of findings) {
      const earlier = [
        ...store.letters.ofExcursion(finding.excursionId),
        ...letters.filter(({ excursionId }) => excursionId === finding.excursionId),
      ];
      const letter = composeLetter(finding, contextFor(site, earlier));
      if (letter !== null) letters.push(letter);
    }
    const batch = { ...NOTHING, readings: [...some, ...cocoons], findings, letters };
    store.commit({ ...batch, judge: seat.remember() }, KEEPERS);
  }
  return seat;
}

/** Take in the checks that wait, at an instant at which nothing else goes on. */
export function takeIn(store: Store, site: Site, seat: JudgeSeat | null, nowMs: number) {
  return takeInChecks({
    site,
    store,
    keepers: KEEPERS,
    nowMs: () => nowMs,
    settledSeat: () => seat,
    context: (earlier) => contextFor(site, earlier),
    compose: (finding, earlier) => composeLetter(finding, contextFor(site, earlier)),
    pause: async () => {},
  });
}

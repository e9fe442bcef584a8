/// <reference lib="dom" />

/**
 * The one script of the pages, run in the browser: pointing at a moment of a picture, and moving
 * through time by keyboard. Pages say and do everything without it.
 *
 * What it says of a moment is what the page says already: a day's own words, or the row of the
 * table behind the picture. It is sent as its own source text, so it uses nothing from outside
 * itself, and is one function for that reason.
 */
export function walkInTime(): void {
  /** A moment that can be pointed at: its words, where it lies in the window, where it leads. */
  type Moment = Readonly<{ words: string; box: () => DOMRect; href: string | null }>;
  /** On the address of a page to which the keyboard moved on, so that it is on the picture again. */
  const WALKING = "#walk";
  const HINT = "Point at a moment, or move to it with the arrow keys.";

  function daysIn(figure: HTMLElement): Moment[] {
    return Array.from(figure.querySelectorAll("svg a"))
      .filter((link) => /\d{4}-\d\d-\d\d$/.test(link.getAttribute("href") ?? ""))
      .map((link) => ({
        words: link.querySelector("title")?.textContent ?? "",
        box: () => link.getBoundingClientRect(),
        href: link.getAttribute("href"),
      }));
  }

  function rowsOf(plate: Element, figure: HTMLElement, svg: SVGSVGElement): Moment[] {
    const [from, to, left, right] = ["from", "to", "left", "right"].map((name) =>
      Number(figure.dataset[name]),
    ) as [number, number, number, number];
    const heads = Array.from(plate.querySelectorAll("thead th")).map((th) => th.textContent ?? "");
    return Array.from(plate.querySelectorAll("tbody tr")).flatMap((row) => {
      const time = row.querySelector("time");
      if (time === null) return [];
      const [fromMs, toMs] = [Date.parse(time.dateTime), Number(time.dataset.to)];
      const values = Array.from(row.querySelectorAll("td")).map((cell, i) =>
        cell.textContent === "" ? "" : `${heads[i + 1]} ${cell.textContent}`,
      );
      const box = () => {
        const drawn = svg.getBoundingClientRect();
        const scale = drawn.width / svg.viewBox.baseVal.width;
        const along = (ms: number) =>
          left + ((Math.min(Math.max(ms, from), to) - from) / (to - from)) * (right - left);
        const x = drawn.left + along(fromMs) * scale;
        return new DOMRect(x, drawn.top, (along(toMs) - along(fromMs)) * scale, drawn.height);
      };
      const told = values.filter((words) => words !== "").join("; ");
      const words = `${time.textContent}: ${told === "" ? "not seen" : told}`;
      return [{ words, box, href: row.querySelector("a")?.getAttribute("href") ?? null }];
    });
  }

  function goTo(rel: "prev" | "next"): void {
    const link = document.querySelector(`a[rel=${rel}]`);
    if (link !== null) location.assign(link.getAttribute("href") + WALKING);
  }

  function serve(plate: Element): void {
    const figure = plate.querySelector("figure");
    const svg = figure?.querySelector("svg");
    if (!figure || !svg) return;
    const isDays = figure.dataset.days !== undefined;
    const moments = isDays ? daysIn(figure) : rowsOf(plate, figure, svg);
    if (moments.length === 0) return;
    let at = -1;
    const hair = document.createElement("div");
    hair.className = "hair";
    hair.hidden = true;
    const readout = document.createElement("p");
    readout.className = "readout";
    readout.textContent = HINT;
    figure.append(hair, readout);
    figure.tabIndex = 0;
    figure.setAttribute("role", "group");
    const name = svg.querySelector("title")?.textContent ?? "";
    figure.setAttribute("aria-label", `${name}. Arrow keys move through it.`);

    function show(next: number, isSaid: boolean): void {
      // What the pointer brushes over is not read aloud.
      readout.setAttribute("aria-live", isSaid ? "polite" : "off");
      at = next;
      const moment = moments[at];
      hair.hidden = moment === undefined;
      readout.textContent = moment === undefined ? HINT : moment.words;
      if (moment === undefined || !figure) return;
      const box = moment.box();
      const about = figure.getBoundingClientRect();
      hair.style.left = `${box.left - about.left}px`;
      hair.style.top = `${box.top - about.top}px`;
      hair.style.width = `${box.width}px`;
      hair.style.height = `${box.height}px`;
    }

    function under(x: number, y: number): number {
      return moments.findIndex(({ box }) => {
        const { left, right, top, bottom } = box();
        return x >= left && x < right && y >= top && y < bottom;
      });
    }

    figure.addEventListener("pointermove", ({ clientX, clientY }) => {
      const next = under(clientX, clientY);
      if (next !== at) show(next, false);
    });
    figure.addEventListener("pointerleave", () => show(-1, false));
    figure.addEventListener("blur", () => show(-1, false));
    figure.addEventListener("keydown", (event) => {
      if (event.target !== figure || event.altKey || event.ctrlKey || event.metaKey) return;
      const last = moments.length - 1;
      const moves: Readonly<Record<string, () => void>> = {
        ArrowLeft: () => show(at === -1 ? last : Math.max(0, at - 1), true),
        ArrowRight: () => show(Math.min(last, at + 1), true),
        Home: () => show(0, true),
        End: () => show(last, true),
        PageUp: () => goTo("prev"),
        PageDown: () => goTo("next"),
        Escape: () => show(-1, true),
        Enter: () => {
          const href = moments[at]?.href;
          if (href) location.assign(href);
        },
      };
      const move = moves[event.key];
      if (move === undefined) return;
      event.preventDefault();
      move();
    });
  }

  for (const plate of Array.from(document.querySelectorAll(".plate"))) serve(plate);
  if (location.hash === WALKING) document.querySelector<HTMLElement>(".plate figure")?.focus();
}

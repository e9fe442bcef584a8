import { fork } from "node:child_process";
import { writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import { join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { pino } from "pino";
import { KnownError } from "../../shared/errors.js";
import { SECOND_MS } from "../../shared/time.js";
import { type Config, loadConfig } from "../config.js";
import { type Keeping, startKeep } from "../keep.js";
import { clockWords } from "../letters/time-words.js";
import { openHasteningClock, type Pace, writePace } from "../rehearsal/fast-clock.js";
import { clearRehearsal } from "../rehearsal/leftovers.js";
import { followLetters } from "../rehearsal/letter-news.js";
import { firstMishapMs, morningOf, type Outset, quillmereConfig } from "../rehearsal/quillmere.js";
import type { StationNews } from "../rehearsal/station.js";
import { untilStopped } from "./until-stopped.js";

type Options = Readonly<{ speed: number; for?: number; config: string | null }>;

const FOLDER = "state";
const STATION = fileURLToPath(new URL("../rehearsal/station.js", import.meta.url));
/** The port that MQTT has at IANA. */
const USUAL_PORT = 1883;
/** The default of the config. */
const PAGES_PORT = 8377;

/**
 * Run all of Drowse on a simulated chamber, in `state/` of the current folder, until stopped.
 *
 * @throws {KnownError} WRONG_USE with a config of one's own, REHEARSAL_REFUSED where a real store
 *   lies in `state/`
 */
export async function rehearse(options: Options): Promise<void> {
  if (options.config !== null)
    throw new KnownError("WRONG_USE", "rehearse writes its own config; nearest is keep --config");
  const folder = resolve(FOLDER);
  clearRehearsal(folder);
  const file = join(folder, "rehearsal.toml");
  const ports = { broker: await choosePort(USUAL_PORT), pages: await choosePort(PAGES_PORT) };
  writeFileSync(file, quillmereConfig(ports));
  const config = loadConfig(file);
  const { speed } = options;
  const atMs = Date.now();
  const fromMs = morningOf(atMs);
  const slow: Pace = { fromMs, atMs, speed: 1 };
  writePace(folder, slow);
  const log = pino({ base: null }, pino.destination(join(folder, "rehearsal.log")));
  const clock = openHasteningClock(slow);
  const keeping = await startKeep(config, { clock, log });
  const port = keeping.port ?? USUAL_PORT;
  introduce(config, { port, pageAddress: keeping.pageAddress }, { fromMs, speed });

  const say = sayer(config);
  const letters = followLetters(config, say);
  const station = fork(STATION, [port, fromMs, speed].map(String));
  station.on("message", (news: StationNews) => {
    if ("words" in news) return say(news.atMs, `(${news.words})`);
    // Time waits while a day's backlog pours in: at full speed every probe would seem mute.
    const pace = clock.hasten(speed);
    writePace(folder, pace);
    station.send(pace);
  });
  await untilStopped(options.for === undefined ? null : options.for * SECOND_MS);
  if (station.connected) station.disconnect();
  await keeping.close();
  writePace(folder, { ...slow, stoodAtMs: clock.nowMs() });
  letters.close();
}

function sayer({ site }: Config): (atMs: number, words: string) => void {
  return (atMs, words) => process.stdout.write(`${clockWords(atMs, site.timezone)}  ${words}\n`);
}

function introduce(
  config: Config,
  { port, pageAddress }: Pick<Keeping, "pageAddress"> & Readonly<{ port: number }>,
  outset: Outset,
): void {
  const { fromMs, speed } = outset;
  const here = (path: string) => relative(process.cwd(), path);
  const waitS = Math.round((firstMishapMs(outset) - fromMs) / speed / SECOND_MS);
  const configFile = here(config.file);
  process.stdout.write(`Rehearsal at ${config.site.name}, an invented place, ${speed} times as fast as the clock.
  A simulated fridge publishes to mqtt://127.0.0.1:${port}; Drowse keeps watch over it.
  First it sends two days that it kept back; ${waitS} s later its door is left ajar.
  See it in a browser at
    ${pageAddress ?? "(no free port was found for its pages)"}
  Each letter is told here, and lies as a mail in
    ${here(join(config.store.folder, "letters"))}
  Ask how it is:   npm run -s drowse -- now --config ${configFile}
  The real thing:  copy deploy/drowse.toml to drowse.toml, name your broker in it, then
                   npm start -- --config drowse.toml
  Ctrl-C ends it.

`);
}

/** The usual port where it is free, else any that is. */
async function choosePort(usual: number): Promise<number> {
  return (await tryPort(usual)) ?? (await tryPort(0)) ?? usual;
}

function tryPort(wanted: number): Promise<number | null> {
  const server = createServer();
  return new Promise((found) => {
    server.once("error", () => found(null));
    server.listen(wanted, "127.0.0.1", () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => found(port));
    });
  });
}

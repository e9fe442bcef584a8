import { join } from "node:path";
import { KnownError } from "../../shared/errors.js";
import { loadConfig } from "../config.js";
import { composeTrial } from "../letters/compose.js";
import { mailDomainOf } from "../letters/message-id.js";
import { writeLetterFile } from "../mail/letter-file.js";
import { readMailFailure } from "../mail/mail-failure.js";
import { openSmtpPost, TRY_LIMIT_MS } from "../mail/smtp-post.js";

/** What became of the trial letter for one keeper. */
type Outcome = Readonly<{ keeper: string; sent: boolean; said: string }>;

/**
 * Send a trial letter at once, the way a real one goes, and say what became of it.
 *
 * It does not wait its turn in the outbox, so it tells of the server as it is now.
 *
 * @throws {KnownError} MAIL_REFUSED when a keeper's letter was not taken over
 */
export async function ring(
  configFile: string,
  options: Readonly<{ json?: boolean }>,
): Promise<void> {
  const { site, temperatureUnit, keepers, mail, store } = loadConfig(configFile);
  const letter = composeTrial(Date.now(), {
    site,
    temperatureUnit,
    earlier: [],
    trouble: null,
    mailDomain: mailDomainOf(mail?.from ?? null),
  });
  if (mail === null) {
    const file = await writeLetterFile(letter, keepers, join(store.folder, "letters"));
    say(
      options,
      { file },
      `There is no [mail] in the config, so the letter is a file:\n  ${file}\n`,
    );
    return;
  }
  const where = `${mail.host}:${mail.port}`;
  const post = openSmtpPost(mail);
  const outcomes: Outcome[] = [];
  for (const keeper of keepers) {
    try {
      await post(letter, keeper, AbortSignal.timeout(TRY_LIMIT_MS));
      outcomes.push({ keeper, sent: true, said: `${where} took the letter over` });
    } catch (error) {
      outcomes.push({ keeper, sent: false, said: readMailFailure(error, where, mail).message });
    }
  }
  const lines = outcomes.map(({ keeper, said }) => `${keeper}: ${said}\n`).join("");
  say(options, { server: where, outcomes }, lines);
  const failed = outcomes.filter(({ sent }) => !sent).length;
  if (failed > 0)
    throw new KnownError("MAIL_REFUSED", `${failed} of ${keepers.length} trial letters did not go`);
}

function say(options: Readonly<{ json?: boolean }>, facts: object, text: string): void {
  process.stdout.write(options.json === true ? `${JSON.stringify(facts)}\n` : text);
}

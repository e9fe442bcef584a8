import { KnownError } from "../../shared/errors.js";
import type { DrawPictures } from "./draw-pictures.js";
import { grouped } from "./grouped.js";
import { writeLetterFile } from "./letter-file.js";
import type { MailFailure } from "./mail-failure.js";
import { readMailFailure } from "./mail-failure.js";
import type { Carrier } from "./outbox-turn.js";
import { type MailServer, openSmtpPost } from "./smtp-post.js";

/** The way out of the house that the config names. */
export function carrierTo(mail: MailServer | null, folder: string, draw: DrawPictures): Carrier {
  return mail === null ? folderCarrier(folder, draw) : smtpCarrier(mail, draw);
}

/** Letters by SMTP: a transaction for each keeper, so that one refusal holds up no other. */
function smtpCarrier(server: MailServer, draw: DrawPictures): Carrier {
  const post = openSmtpPost(server, draw);
  return {
    pack: (due) => due.map((one) => ({ due: [one] })),
    async carry({ due }, signal) {
      for (const { letter, delivery } of due) await post(letter, delivery.keeper, signal);
    },
    explain: (error) => readMailFailure(error, `${server.host}:${server.port}`, server),
  };
}

function explainFileError(error: unknown): MailFailure {
  const message = error instanceof KnownError ? error.message : String(error);
  return { kind: "server", message };
}

/** Letters as .eml files in `folder`: one for each letter, addressed to all its keepers. */
function folderCarrier(folder: string, draw: DrawPictures): Carrier {
  return {
    pack: (due) => [...grouped(due, ({ letter }) => letter.id).values()].map((d) => ({ due: d })),
    async carry({ due }) {
      const keepers = due.map(({ delivery }) => delivery.keeper);
      await writeLetterFile(due[0]!.letter, keepers, folder, draw);
    },
    explain: explainFileError,
  };
}

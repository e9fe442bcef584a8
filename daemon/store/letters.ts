import type { Database } from "better-sqlite3";
import { HOUR_MS } from "../../shared/time.js";
import type { LetterPicture } from "../letters/letter-picture.js";
import type { Delivery, DueLetter, NewLetter, PostedLetter } from "./records.js";

const ERROR_CHARS = 500;
const UNDELIVERED_ROWS = 500;
/** No letter waits longer for its next try; one that seems to was dated by a clock that was ahead. */
const WAIT_MOST_MS = 6 * HOUR_MS;

const LETTER = `letter.id, kind, excursion_id AS excursionId, created_at_ms AS createdAtMs,
  subject, text, html, message_id AS messageId, in_reply_to AS inReplyTo, pictures`;
const DELIVERY = `letter.id AS letterId, keeper, attempts, next_try_at_ms AS nextTryAtMs,
  sent_at_ms AS sentAtMs, given_up_at_ms AS givenUpAtMs, last_error AS lastError`;
const WAITING = "sent_at_ms IS NULL AND given_up_at_ms IS NULL";

/** Statements over `letter` and `delivery`. The caller owns `db`. */
export function openLetters(db: Database) {
  const find = db.prepare<[string], LetterRow>(`SELECT ${LETTER} FROM letter WHERE id = ?`);
  const due = db.prepare<{ nowMs: number; limit: number }, Delivery>(`
    SELECT ${DELIVERY} FROM delivery JOIN letter USING (letter_no)
    WHERE ${WAITING} AND (next_try_at_ms <= @nowMs OR next_try_at_ms > @nowMs + ${WAIT_MOST_MS})
    ORDER BY next_try_at_ms, letter_no LIMIT @limit`);
  const nextDue = db.prepare<[], number | null>(
    `SELECT min(next_try_at_ms) FROM delivery WHERE ${WAITING}`,
  );
  nextDue.pluck();
  const undelivered = db.prepare<[], Delivery>(`
    SELECT ${DELIVERY} FROM delivery JOIN letter USING (letter_no) WHERE sent_at_ms IS NULL
    ORDER BY letter_no DESC, keeper DESC LIMIT ${UNDELIVERED_ROWS}`);
  const deliveries = db.prepare<[string], Delivery>(`
    SELECT ${DELIVERY} FROM delivery JOIN letter USING (letter_no) WHERE letter.id = ?
    ORDER BY keeper`);
  const between = db.prepare<[number, number], LetterRow>(`
    SELECT ${LETTER} FROM letter WHERE created_at_ms >= ? AND created_at_ms < ?
    ORDER BY created_at_ms, letter_no`);
  const ofExcursion = db.prepare<[string], LetterRow>(
    `SELECT ${LETTER} FROM letter WHERE excursion_id = ? ORDER BY created_at_ms, letter_no`,
  );

  return {
    due: (nowMs: number, limit: number): DueLetter[] =>
      due.all({ nowMs, limit }).map((delivery) => ({
        letter: toLetter(find.get(delivery.letterId)!),
        delivery,
      })),
    nextDueAtMs: (): number | null => nextDue.get() ?? null,
    between: (fromMs: number, toMs: number): PostedLetter[] =>
      between
        .all(fromMs, toMs)
        .map((row) => ({ letter: toLetter(row), deliveries: deliveries.all(row.id) })),
    get(id: string): PostedLetter | null {
      const row = find.get(id);
      return row ? { letter: toLetter(row), deliveries: deliveries.all(id) } : null;
    },
    undelivered: (): Delivery[] => undelivered.all().reverse(),
    ofExcursion: (excursionId: string): NewLetter[] => ofExcursion.all(excursionId).map(toLetter),
  };
}

/** Letters of before there were pictures have null. */
type LetterRow = Omit<NewLetter, "pictures"> & Readonly<{ pictures: string | null }>;

const toRow = ({ pictures, ...letter }: NewLetter): LetterRow => ({
  ...letter,
  pictures: pictures.length === 0 ? null : JSON.stringify(pictures),
});

const toLetter = ({ pictures, ...row }: LetterRow): NewLetter => ({
  ...row,
  pictures: pictures === null ? [] : (JSON.parse(pictures) as LetterPicture[]),
});

/** Statements that queue letters and record their way. The caller owns `db`. */
export function openPosting(db: Database) {
  const insert = db.prepare<LetterRow>(`
    INSERT INTO letter (id, kind, excursion_id, created_at_ms, subject, text, html, message_id,
      in_reply_to, pictures)
    VALUES (@id, @kind, @excursionId, @createdAtMs, @subject, @text, @html, @messageId,
      @inReplyTo, @pictures)
    ON CONFLICT (id) DO NOTHING`);
  const address = db.prepare<[number | bigint, string, number]>(`
    INSERT INTO delivery VALUES (?, ?, 0, ?, NULL, NULL, NULL)
    ON CONFLICT (letter_no, keeper) DO NOTHING`);
  const which = "letter_no = (SELECT letter_no FROM letter WHERE id = @letterId)";
  const sent = db.prepare<{ letterId: string; keeper: string; atMs: number }>(`
    UPDATE delivery SET attempts = attempts + 1, sent_at_ms = @atMs
    WHERE ${which} AND keeper = @keeper AND sent_at_ms IS NULL`);
  const failed = db.prepare<{
    letterId: string;
    keeper: string;
    nextTryAtMs: number;
    error: string;
    givenUpAtMs: number | null;
  }>(`
    UPDATE delivery SET attempts = attempts + 1, next_try_at_ms = @nextTryAtMs,
      last_error = @error, given_up_at_ms = @givenUpAtMs
    WHERE ${which} AND keeper = @keeper AND sent_at_ms IS NULL`);

  const moved = db.prepare<[number]>(
    `UPDATE delivery SET next_try_at_ms = next_try_at_ms + ? WHERE ${WAITING}`,
  );

  return {
    /** The clock was set by so much: who waits for a next try waits no longer for that. */
    clockWasSet: (byMs: number): void => void moved.run(Math.round(byMs)),
    /** Inside the caller's transaction; a letter already known changes nothing. */
    queue(letter: NewLetter, keepers: readonly string[]): void {
      const { changes, lastInsertRowid } = insert.run(toRow(letter));
      if (changes === 0) return;
      for (const keeper of keepers) address.run(lastInsertRowid, keeper, letter.createdAtMs);
    },
    sent: (letterId: string, keeper: string, atMs: number): void =>
      void sent.run({ letterId, keeper, atMs }),
    failed(
      letterId: string,
      keeper: string,
      atMs: number,
      nextTryAtMs: number,
      error: string,
      giveUp: boolean,
    ): void {
      const givenUpAtMs = giveUp ? atMs : null;
      failed.run({
        letterId,
        keeper,
        nextTryAtMs,
        error: error.slice(0, ERROR_CHARS),
        givenUpAtMs,
      });
    },
  };
}

import type { Database } from "better-sqlite3";

const ROLLUP_COLUMNS = `key INTEGER PRIMARY KEY,
    readings INTEGER NOT NULL,
    temperatures INTEGER NOT NULL,
    temperature_sum_milli_c INTEGER NOT NULL,
    temperature_low_milli_c INTEGER,
    temperature_high_milli_c INTEGER,
    humidities INTEGER NOT NULL,
    humidity_sum_centi_pct INTEGER NOT NULL,
    humidity_low_centi_pct INTEGER,
    humidity_high_centi_pct INTEGER,
    from_minute INTEGER GENERATED ALWAYS AS (key >> 10) VIRTUAL,
    probe_no INTEGER GENERATED ALWAYS AS (key & 1023) VIRTUAL`;

/**
 * How the store came to its present shape, one step a version. A step that has been released is
 * never edited; a change is a new step at the end. PRAGMA user_version counts the steps done.
 *
 * A reading's key is `(taken_at_ms - 2024-01-01) * 1024 + probe_no`, a rollup's
 * `from_minute * 1024 + probe_no`. One integer key in order of time means that a commit of many
 * probes only appends to the last page, and that SQLite starts a new page without moving rows
 * about; with a key of two columns the same commits wrote half as much again.
 */
export const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE probe (
    probe_no INTEGER PRIMARY KEY CHECK (probe_no BETWEEN 1 AND 1023),
    probe_id TEXT NOT NULL UNIQUE
  ) STRICT;

  CREATE TABLE reading (
    key INTEGER PRIMARY KEY,
    temperature_milli_c INTEGER,
    humidity_centi_pct INTEGER,
    taken_at_ms INTEGER GENERATED ALWAYS AS ((key >> 10) + 1704067200000) VIRTUAL,
    probe_no INTEGER GENERATED ALWAYS AS (key & 1023) VIRTUAL
  ) STRICT;

  CREATE TABLE hour (
    ${ROLLUP_COLUMNS}
  ) STRICT;

  CREATE TABLE day (
    ${ROLLUP_COLUMNS}
  ) STRICT;

  CREATE TABLE upkeep (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    timezone TEXT,
    hours_closed_before_ms INTEGER NOT NULL,
    days_closed_before_ms INTEGER NOT NULL,
    pruned_before_ms INTEGER NOT NULL
  ) STRICT;
  INSERT INTO upkeep VALUES (1, NULL, 0, 0, 0);

  CREATE TABLE judge (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    at_ms INTEGER NOT NULL,
    state_deflated BLOB NOT NULL
  ) STRICT;

  CREATE TABLE excursion (
    id TEXT PRIMARY KEY,
    started_at_ms INTEGER NOT NULL,
    opened_at_ms INTEGER NOT NULL,
    ended_at_ms INTEGER,
    acknowledged_at_ms INTEGER,
    latest TEXT NOT NULL
  ) STRICT;
  CREATE INDEX excursion_open ON excursion (opened_at_ms) WHERE ended_at_ms IS NULL;

  CREATE TABLE finding (
    excursion_id TEXT NOT NULL REFERENCES excursion (id),
    at_ms INTEGER NOT NULL,
    change TEXT NOT NULL,
    finding TEXT NOT NULL,
    UNIQUE (excursion_id, at_ms, change)
  ) STRICT;

  CREATE TABLE letter (
    letter_no INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    kind TEXT NOT NULL,
    excursion_id TEXT,
    created_at_ms INTEGER NOT NULL,
    subject TEXT NOT NULL,
    text TEXT NOT NULL,
    html TEXT NOT NULL,
    message_id TEXT NOT NULL,
    in_reply_to TEXT
  ) STRICT;
  CREATE INDEX letter_of_excursion ON letter (excursion_id) WHERE excursion_id IS NOT NULL;
  CREATE INDEX letter_created ON letter (created_at_ms);

  CREATE TABLE delivery (
    letter_no INTEGER NOT NULL REFERENCES letter (letter_no),
    keeper TEXT NOT NULL,
    attempts INTEGER NOT NULL,
    next_try_at_ms INTEGER NOT NULL,
    sent_at_ms INTEGER,
    given_up_at_ms INTEGER,
    last_error TEXT,
    PRIMARY KEY (letter_no, keeper)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX delivery_waiting ON delivery (next_try_at_ms)
    WHERE sent_at_ms IS NULL AND given_up_at_ms IS NULL;

  CREATE TABLE heard (
    heard_no INTEGER PRIMARY KEY,
    topic TEXT NOT NULL,
    probe_id TEXT NOT NULL,
    outcome TEXT NOT NULL,
    count INTEGER NOT NULL,
    last_at_ms INTEGER NOT NULL,
    sample TEXT NOT NULL,
    detail TEXT,
    UNIQUE (topic, probe_id, outcome)
  ) STRICT;

  CREATE TABLE board (
    key TEXT PRIMARY KEY,
    value TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;
  `,
  // What the keeper wrote down is evidence: the store itself refuses to change or remove it.
  `
  CREATE TABLE journal (
    entry_no INTEGER PRIMARY KEY AUTOINCREMENT,
    at_ms INTEGER NOT NULL,
    written_at_ms INTEGER NOT NULL,
    kind TEXT NOT NULL,
    chamber_id TEXT,
    lot_id TEXT,
    details TEXT NOT NULL CHECK (json_valid(details)),
    words TEXT NOT NULL,
    corrects INTEGER UNIQUE REFERENCES journal (entry_no)
  ) STRICT;

  CREATE TABLE lot (
    version_no INTEGER PRIMARY KEY AUTOINCREMENT,
    written_at_ms INTEGER NOT NULL,
    lot_id TEXT NOT NULL,
    species TEXT NOT NULL,
    origin TEXT NOT NULL,
    harvested_on TEXT,
    large_cocoons INTEGER NOT NULL CHECK (large_cocoons >= 0),
    small_cocoons INTEGER NOT NULL CHECK (small_cocoons >= 0),
    box TEXT NOT NULL,
    warm_days REAL,
    words TEXT NOT NULL
  ) STRICT;

  CREATE TRIGGER journal_never_changes BEFORE UPDATE ON journal
    BEGIN SELECT raise(ABORT, 'an entry is corrected by a later one'); END;
  CREATE TRIGGER journal_never_goes BEFORE DELETE ON journal
    BEGIN SELECT raise(ABORT, 'an entry is corrected by a later one'); END;
  CREATE TRIGGER lot_never_changes BEFORE UPDATE ON lot
    BEGIN SELECT raise(ABORT, 'a lot is corrected by a later version'); END;
  CREATE TRIGGER lot_never_goes BEFORE DELETE ON lot
    BEGIN SELECT raise(ABORT, 'a lot is corrected by a later version'); END;
  `,
  // A season's view asks what mattered and when doors were opened, without parsing each finding.
  `
  CREATE INDEX excursion_gist ON excursion (
    started_at_ms,
    ended_at_ms,
    json_extract(latest, '$.urgency'),
    json_extract(latest, '$.cause'),
    json_extract(latest, '$.chamberId')
  );
  `,
  // What a letter shows is drawn when it is sent: its row says what, as JSON.
  `
  ALTER TABLE letter ADD COLUMN pictures TEXT;
  `,
  `
  -- What the keeper found when checking probes. Rows only come; they never change or go.
  CREATE TABLE check_entry (
    entry_no INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    made_at_ms INTEGER NOT NULL,
    entry TEXT NOT NULL
  ) STRICT;
  CREATE TRIGGER check_entry_stays BEFORE UPDATE ON check_entry
    BEGIN SELECT RAISE(ABORT, 'a check is never edited'); END;
  CREATE TRIGGER check_entry_is_kept BEFORE DELETE ON check_entry
    BEGIN SELECT RAISE(ABORT, 'a check is never forgotten'); END;
  ALTER TABLE upkeep ADD COLUMN checks_taken_no INTEGER NOT NULL DEFAULT 0;

  -- While a probe is being checked it is not in its place.
  CREATE TABLE absence (
    absence_no INTEGER PRIMARY KEY,
    probe_id TEXT NOT NULL,
    from_ms INTEGER NOT NULL,
    until_ms INTEGER NOT NULL
  ) STRICT;

  -- Excursions as they were judged before a check dated back had them judged anew.
  CREATE TABLE revised (
    entry_no INTEGER NOT NULL,
    excursion_id TEXT NOT NULL,
    acknowledged_at_ms INTEGER,
    findings TEXT NOT NULL
  ) STRICT;
  `,
  // What a form posted, so that it is written once however often it comes.
  `
  CREATE TABLE written_once (
    id TEXT PRIMARY KEY,
    written_at_ms INTEGER NOT NULL,
    entry_nos TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;
  `,
  `
  -- When Drowse did not listen, so that no silence is made of it when readings are judged anew.
  CREATE TABLE deaf (
    from_ms INTEGER NOT NULL,
    to_ms INTEGER NOT NULL
  ) STRICT;
  `,
];

/** The store version this Drowse writes. */
export const STORE_VERSION = MIGRATIONS.length;

/** "Drws" in ASCII, our choice; tells `drowse.db` from any other SQLite file. */
export const APPLICATION_ID = 0x44727773;

/** Bring a store from `version` to the present one, all steps or none. */
export function migrate(db: Database, version: number): void {
  const climb = db.transaction(() => {
    for (const step of MIGRATIONS.slice(version)) db.exec(step);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    db.pragma(`user_version = ${STORE_VERSION}`);
  });
  if (version < STORE_VERSION) climb.immediate();
}

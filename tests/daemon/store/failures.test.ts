import Database from "better-sqlite3";
import { expect, test } from "vitest";
import { explained, explainFailure } from "../../../daemon/store/failures.js";
import { KnownError } from "../../../shared/errors.js";

/** A database that can't grow: a bound on its pages gives the code that a full disk gives. */
function fullDatabase(): Database.Database {
  const db = new Database(":memory:");
  db.exec("CREATE TABLE reading (value TEXT)");
  db.pragma("max_page_count = 3");
  return db;
}

test("a disk that is full is named as such, with the cure", () => {
  const db = fullDatabase();
  const insert = db.prepare("INSERT INTO reading VALUES (?)");
  const section = explained({ add: (text: string) => insert.run(text) }, "state/drowse.db");
  section.add("2.5");
  expect(() => section.add("x".repeat(100_000))).toThrow(
    /^STORE_FULL: state\/drowse\.db could not grow; free some room .*SQLITE_FULL/,
  );
});

test("a failure in the midst of an iterator is explained too", () => {
  function* rows() {
    yield 1;
    throw new Database.SqliteError("malformed", "SQLITE_CORRUPT_INDEX");
  }
  const seen: number[] = [];
  const read = () => {
    for (const row of explained({ rows }, "drowse.db").rows()) seen.push(row);
  };
  expect(read).toThrow(KnownError);
  expect(read).toThrow(/^STORE_DAMAGED: /);
  expect(seen).toEqual([1, 1]);
});

test.each([
  ["SQLITE_NOTADB", "STORE_DAMAGED"],
  ["SQLITE_IOERR_WRITE", "STORE_DAMAGED"],
  ["SQLITE_BUSY_SNAPSHOT", "STORE_LOCKED"],
  ["SQLITE_READONLY_DIRECTORY", "STORE_UNWRITABLE"],
  ["SQLITE_CANTOPEN", "STORE_UNWRITABLE"],
])("%s is %s", (code, known) => {
  const cause = new Database.SqliteError("as SQLite says", code);
  expect(explainFailure(cause, "drowse.db")).toMatchObject({ code: known, cause });
});

test("a mistake of ours is not dressed up as the operator's", () => {
  const constraint = new Database.SqliteError("UNIQUE", "SQLITE_CONSTRAINT_UNIQUE");
  const range = new RangeError("not whole");
  expect(explainFailure(constraint, "drowse.db")).toBe(constraint);
  expect(explainFailure(range, "drowse.db")).toBe(range);
});

import fc from "fast-check";
import { pino } from "pino";
import { expect, test } from "vitest";
import { readableLine } from "../../../daemon/cli/log-lines.js";

/** What pino writes of one call. */
function lineOf(write: (log: pino.Logger) => void): string {
  let line = "";
  const timestamp = () => ',"time":"2026-01-15T12:00:00.000Z"';
  const out = {
    write: (text: string) => {
      line += text;
    },
  };
  write(pino({ base: null, level: "trace", timestamp }, out));
  return line;
}

test("in the journal a line begins with its severity, and says the sentence before the facts", () => {
  const warned = lineOf((log) => log.warn({ topic: "shed/air", reason: "not json" }, "no reading"));
  expect(readableLine(warned, "journal")).toBe('<4>no reading; topic=shed/air reason="not json"\n');
  const told = lineOf((log) => log.info("listening"));
  expect(readableLine(told, "journal")).toBe("<6>listening\n");
});

test("severities are those of RFC 5424, table 2", () => {
  const severityOf = (level: "fatal" | "error" | "warn" | "info" | "debug") =>
    readableLine(
      lineOf((log) => log[level]("x")),
      "journal",
    ).slice(0, 3);
  expect(severityOf("fatal")).toBe("<2>"); // Critical
  expect(severityOf("error")).toBe("<3>"); // Error
  expect(severityOf("warn")).toBe("<4>"); // Warning
  expect(severityOf("info")).toBe("<6>"); // Informational
  expect(severityOf("debug")).toBe("<7>"); // Debug
});

test("at a terminal it begins with the time", () => {
  const line = lineOf((log) => log.info({ port: 1883 }, "listening for sensors"));
  expect(readableLine(line, "terminal")).toBe(
    "2026-01-15T12:00:00.000Z listening for sensors; port=1883\n",
  );
});

test("whatever a stranger's topic holds, it stays one line", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), fc.anything(), (topic, more) => {
      const line = readableLine(
        lineOf((log) => log.warn({ topic, more: String(JSON.stringify(more)) }, "not a reading")),
        "journal",
      );
      expect(line.indexOf("\n")).toBe(line.length - 1);
      expect(line.startsWith("<4>not a reading;")).toBe(true);
      expect(line.slice(0, -1)).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    }),
    { seed: 5, numRuns: 300 },
  );
});

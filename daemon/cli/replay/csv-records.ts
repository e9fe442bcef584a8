import { once } from "node:events";
import { createReadStream } from "node:fs";
import { type CsvError, type Info, type Parser, parse } from "csv-parse";

/** What a CSV file is read into, record by record, with the line on which each ends. */
export type RecordSink = Readonly<{
  record(cells: readonly string[], line: number): void;
  fault(line: number, reason: string): void;
}>;

const CHUNK_BYTES = 1024 * 1024;
/** Far beyond any row; a file without line ends must not fill the memory. */
const LONGEST_LINE = 64 * 1024;

/**
 * Read an RFC 4180 file as a stream. Empty lines are passed over.
 *
 * Up to the first quote a record is a line cut at its commas, which a winter of readings is from
 * end to end; that is done here, several times faster. From there on csv-parse reads.
 *
 * @throws what opening or reading the file throws
 */
export async function readCsvRecords(file: string, sink: RecordSink): Promise<void> {
  let rest = "";
  let line = 0;
  let quoted: Parser | null = null;
  for await (const chunk of createReadStream(file, {
    encoding: "utf8",
    highWaterMark: CHUNK_BYTES,
  })) {
    rest += chunk;
    if (quoted === null) {
      const quote = rest.indexOf('"');
      const end = rest.lastIndexOf("\n", quote < 0 ? rest.length : quote) + 1;
      line = cutLines(rest.slice(0, end), line, sink);
      rest = rest.slice(end);
      if (quote >= 0) quoted = openQuoted(line, sink);
      else if (rest.length > LONGEST_LINE) return sink.fault(line + 1, "the line has no end");
    }
    if (quoted !== null) {
      const text = rest;
      rest = "";
      if (!quoted.write(text)) await once(quoted, "drain");
    }
  }
  if (quoted === null) return void cutLines(rest, line, sink);
  const ended = once(quoted, "end");
  quoted.end();
  await ended;
}

function cutLines(text: string, before: number, sink: RecordSink): number {
  let line = before;
  let from = line === 0 && text.startsWith("\ufeff") ? 1 : 0;
  while (from < text.length) {
    const end = text.indexOf("\n", from);
    const to = end < 0 ? text.length : end;
    const content = text.slice(from, text[to - 1] === "\r" ? to - 1 : to);
    line += 1;
    if (content.trim() !== "") sink.record(content.split(","), line);
    from = to + 1;
  }
  return line;
}

function openQuoted(before: number, sink: RecordSink): Parser {
  const parser = parse({
    bom: before === 0,
    relax_column_count: true,
    skip_empty_lines: true,
    skip_records_with_error: true,
    max_record_size: LONGEST_LINE,
    // Taken here and dropped, a record costs no round through the stream.
    on_record: (cells: string[], { lines }: Info) => {
      sink.record(cells, before + lines);
      return null;
    },
  });
  parser.on("skip", (error: CsvError & { lines?: number }) =>
    sink.fault(before + (error.lines ?? 0), error.message.replace(/ at line \d+/, "")),
  );
  return parser.resume();
}

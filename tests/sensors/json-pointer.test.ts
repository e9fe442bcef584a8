import fc from "fast-check";
import { expect, test } from "vitest";
import { followPointer, formatPointer, parsePointer } from "../../sensors/json-pointer.js";

// RFC 6901, section 5: the document and the table of pointers in string form.
const DOCUMENT = JSON.parse(String.raw`{
  "foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3,
  "g|h": 4, "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8
}`);

function follow(document: unknown, pointer: string): unknown {
  const path = parsePointer(pointer);
  expect(path).not.toBeNull();
  return followPointer(document, path ?? []);
}

test.each([
  ["", DOCUMENT],
  ["/foo", ["bar", "baz"]],
  ["/foo/0", "bar"],
  ["/", 0],
  ["/a~1b", 1],
  ["/c%d", 2],
  ["/e^f", 3],
  ["/g|h", 4],
  ["/i\\j", 5],
  ['/k"l', 6],
  ["/ ", 7],
  ["/m~0n", 8],
])("%j points where the standard's table says", (pointer, expected) => {
  expect(follow(DOCUMENT, pointer)).toEqual(expected);
});

test("~01 is ~1 and not a slash", () => {
  // RFC 6901, section 4.
  expect(follow({ "~1": "tilde", "/": "slash" }, "/~01")).toBe("tilde");
});

test.each(["/foo/2", "/foo/01", "/foo/-", "/foo/-1", "/foo/1e0", "/foo/length", "/nonexistent"])(
  "%j points to nothing",
  (pointer) => {
    expect(follow(DOCUMENT, pointer)).toBeUndefined();
  },
);

test.each([
  "/__proto__",
  "/constructor",
  "/toString",
  "/constructor/name",
  "/foo/map",
  "/foo/0/length",
])("%j is not found in JavaScript where the document has none", (pointer) => {
  expect(follow(DOCUMENT, pointer)).toBeUndefined();
});

test("a document may have members of such names", () => {
  const document = JSON.parse('{"__proto__": {"t": 3.5}, "constructor": 4}');
  expect(follow(document, "/__proto__/t")).toBe(3.5);
  expect(follow(document, "/constructor")).toBe(4);
});

test.each(["foo", "foo/0", "#/foo", "/a~2b", "/a~"])("%j is no pointer", (pointer) => {
  // RFC 6901, section 3.
  expect(parsePointer(pointer)).toBeNull();
});

test("any path comes back from the pointer written for it", () => {
  fc.assert(
    fc.property(fc.array(fc.string({ unit: "binary" })), (path) => {
      expect(parsePointer(formatPointer(path))).toEqual(path);
    }),
    { seed: 6901 },
  );
});

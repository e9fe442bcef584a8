import { Aedes } from "aedes";
import fc from "fast-check";
import { afterAll, expect, test } from "vitest";
import { coversFilter, findTopicFilterFault, matchesTopic } from "../../sensors/topic-filter.js";

// The examples in the comments of MQTT 3.1.1 (OASIS Standard), sections 4.7.1.2, 4.7.1.3, 4.7.2
// and 4.7.3, as quoted word for word in public copies of the text; 4.7.3's from memory.
test.each([
  ["sport/tennis/player1/#", "sport/tennis/player1", true],
  ["sport/tennis/player1/#", "sport/tennis/player1/ranking", true],
  ["sport/tennis/player1/#", "sport/tennis/player1/score/wimbledon", true],
  ["sport/#", "sport", true],
  ["#", "sport/tennis", true],
  ["sport/tennis/+", "sport/tennis/player1", true],
  ["sport/tennis/+", "sport/tennis/player2", true],
  ["sport/tennis/+", "sport/tennis/player1/ranking", false],
  ["sport/+", "sport", false],
  ["sport/+", "sport/", true],
  ["+/+", "/finance", true],
  ["/+", "/finance", true],
  ["+", "/finance", false],
  ["#", "$SYS/monitor/Clients", false],
  ["+/monitor/Clients", "$SYS/monitor/Clients", false],
  ["$SYS/#", "$SYS/monitor/Clients", true],
  ["$SYS/monitor/+", "$SYS/monitor/Clients", true],
  ["ACCOUNTS", "Accounts", false],
  ["Accounts payable", "Accounts payable", true],
  ["/finance", "finance", false],
])("%s asks for %s: %s", (filter, topic, expected) => {
  expect(matchesTopic(filter, topic)).toBe(expected);
});

test.each([
  "#",
  "+",
  "sport/tennis/#",
  "+/tennis/#",
  "sport/+/player1",
  "/",
  "$SYS/#",
  "Kühlschrank/+",
])("%s is a filter", (filter) => {
  expect(findTopicFilterFault(filter)).toBeNull();
});

test.each([
  "",
  "sport/tennis#",
  "sport/tennis/#/ranking",
  "sport+",
  "a/+b/c",
  "a\0b",
  "$share/g/a",
])("%j is none that Drowse can use", (filter) => {
  expect(findTopicFilterFault(filter)).not.toBeNull();
});

test("a filter or topic may be as long as the standard allows", () => {
  expect(findTopicFilterFault(`a${"é".repeat(32_767)}`)).toBeNull();
  expect(findTopicFilterFault("é".repeat(32_768))).toContain("longer");
  expect(matchesTopic("a/#", `a${"/".repeat(60_000)}`)).toBe(true);
});

const broker = await Aedes.createBroker();
afterAll(() => new Promise<void>((resolve) => broker.close(resolve)));

test("a real broker delivers what the matcher says, and nothing else", async () => {
  const level = fc.constantFrom("", "a", "b");
  const topics = fc.array(level, { minLength: 1, maxLength: 4 }).map((l) => l.join("/"));
  const wanted = fc.constantFrom("", "a", "b", "+");
  const filters = fc
    .tuple(fc.array(wanted, { maxLength: 4 }), fc.constantFrom([], ["#"]))
    .map(([levels, end]) => [...levels, ...end].join("/"))
    .filter((filter) => findTopicFilterFault(filter) === null);
  let both = 0;
  await fc.assert(
    fc.asyncProperty(
      filters,
      topics.filter((topic) => topic !== ""),
      async (filter, topic) => {
        const delivered = await isDelivered(filter, topic);
        if (delivered) both++;
        expect(matchesTopic(filter, topic)).toBe(delivered);
      },
    ),
    { seed: 311, numRuns: 300 },
  );
  expect(both).toBeGreaterThan(20);
});

/** Ask the broker: subscribe, publish, and see whether it comes before a topic that must come. */
async function isDelivered(filter: string, topic: string): Promise<boolean> {
  let delivered = false;
  const hear = (_packet: unknown, done: () => void) => {
    delivered = true;
    done();
  };
  await new Promise<void>((resolve) => broker.subscribe(filter, hear, resolve));
  await new Promise<void>((resolve) => publish(topic, resolve));
  await new Promise<void>((resolve) => broker.unsubscribe(filter, hear, resolve));
  return delivered;
}

function publish(topic: string, done: () => void): void {
  const packet = {
    cmd: "publish",
    topic,
    payload: "1",
    qos: 0,
    retain: false,
    dup: false,
  } as const;
  broker.publish(packet, () => done());
}

test("a filter is covered by one that asks for all its topics and more, and by no other", () => {
  const covered = [
    ["#", "a/b"],
    ["#", "+/+"],
    ["a/#", "a"],
    ["a/#", "a/#"],
    ["a/+", "a/b"],
    ["+/b", "a/b"],
  ];
  for (const [right, filter] of covered) expect(coversFilter(right!, filter!), filter).toBe(true);
  const bare = [
    ["a/+", "a/#"],
    ["a/b", "a/+"],
    ["a/+", "a"],
    ["a", "a/b"],
    ["#", "$SYS/#"],
    ["+/b", "$SYS/b"],
    ["#", "a/#/b"],
    ["#", ""],
  ];
  for (const [right, filter] of bare) expect(coversFilter(right!, filter!), filter).toBe(false);
});

test("what a covered filter matches, the one that covers it matches too", () => {
  const level = fc.constantFrom("a", "b", "+", "$x");
  const filter = fc
    .tuple(fc.array(level, { minLength: 1, maxLength: 4 }), fc.boolean())
    .map(([levels, isOpen]) => [...levels, ...(isOpen ? ["#"] : [])].join("/"));
  const topic = fc
    .array(fc.constantFrom("a", "b", "$x", ""), { minLength: 1, maxLength: 5 })
    .map((levels) => levels.join("/"));
  let coveredCount = 0;
  const check = fc.property(filter, filter, topic, (right, asked, name) => {
    if (!coversFilter(right, asked) || !matchesTopic(asked, name)) return;
    coveredCount += 1;
    expect(matchesTopic(right, name), `${right} covers ${asked}, ${name}`).toBe(true);
  });
  fc.assert(check, { numRuns: 20_000, seed: 471 });
  expect(coveredCount).toBeGreaterThan(50);
});

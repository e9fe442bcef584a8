import { formatRfc3339 } from "../../shared/rfc3339.js";
import { type Config, loadConfig } from "../config.js";
import { oneLine } from "../letters/one-line.js";
import { type HeardTopic, listenToTopics, readHeardTopics } from "./hear/topics.js";
import { layTable } from "./table.js";

type Options = Readonly<{ json?: boolean; for: number }>;

/**
 * Print the topics heard, what became of their messages, and a probe entry for each topic that no
 * probe claims. What `keep` has heard is in the store; an outside broker is listened to as well,
 * so that its topics can be found before there is any probe to keep.
 */
export async function hear(configFile: string, options: Options): Promise<void> {
  const config = loadConfig(configFile);
  const live = config.broker.kind === "outside" ? await listen(config, options.for) : [];
  const stored = readHeardTopics(config);
  const key = ({ topic, outcome }: HeardTopic) => `${outcome} ${topic}`;
  const fresh = new Set(live.map(key));
  const topics = [...live, ...stored.filter((entry) => !fresh.has(key(entry)))];
  if (options.json !== true) process.stdout.write(show(topics, config));
  else for (const topic of topics) process.stdout.write(`${JSON.stringify(toJson(topic))}\n`);
}

async function listen(config: Config, seconds: number): Promise<readonly HeardTopic[]> {
  process.stderr.write(`drowse: listening for ${seconds} s; --for changes that\n`);
  return listenToTopics(config, seconds);
}

function toJson({ lastAtMs, ...rest }: HeardTopic): object {
  return { ...rest, lastAt: formatRfc3339(lastAtMs) };
}

function show(topics: readonly HeardTopic[], config: Config): string {
  if (topics.length === 0) return nothing(config);
  const rows = topics.map((t) => [
    t.topic,
    t.probeId ?? "no probe",
    t.outcome,
    String(t.count),
    oneLine(t.outcome === "unclaimed" ? t.sample : (t.detail ?? t.sample), 60),
  ]);
  const table = layTable(["topic", "probe", "became", "times", "last"], rows);
  const entries = topics.map((t) => t.suggestion).filter((text) => text !== null);
  if (entries.length === 0) return `${table}\n`;
  const advice = `For the topics without a probe, paste into ${config.file} and fill in the rest:`;
  return `${table}\n\n${advice}\n\n${entries.join("\n")}`;
}

function nothing({ broker }: Config): string {
  if (broker.kind === "outside") return `Nothing was heard on ${broker.url}.\n`;
  const where = `${broker.host}:${broker.port}`;
  return `Nothing was heard yet; sensors publish to ${where} while drowse keep runs.\n`;
}

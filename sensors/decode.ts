import type { Reading } from "../shared/reading.js";
import { type BatterySaid, openBatteryReader } from "./battery.js";
import { parsePointer } from "./json-pointer.js";
import type { Content, Fault, SensorTime } from "./measurement.js";
import { LARGEST_PAYLOAD_BYTES, openPayloadReader, type Payload, parsePayload } from "./payload.js";
import { checkPlausible } from "./plausible.js";
import { printable } from "./printable.js";
import type { RejectReason } from "./reject-reason.js";
import type { ProbeSource } from "./source.js";
import { stampMeasurements } from "./taken-at.js";
import { findTopicFilterFault, matchesTopic } from "./topic-filter.js";

/** A message as it came. */
export type Arrival = Readonly<{
  topic: string;
  payload: Uint8Array;
  retained: boolean;
  /** Our own clock, Unix ms. */
  arrivedAtMs: number;
  /** Whether that clock is set (see `isSaneClock`). */
  clockSane: boolean;
}>;

/** What became of a message, or of a part of one. */
export type Decoded =
  | Readonly<{ kind: "reading"; reading: Reading }>
  | Readonly<{
      /** A good reading of a time that nobody knows yet: to be stamped once our clock is set. */
      kind: "untimed";
      probeId: string;
      temperatureC: number | null;
      humidityPct: number | null;
      /** How long before its arrival it was taken, ms; 0 unless the payload says otherwise. */
      ageMs: number;
    }>
  | (Readonly<{ kind: "battery"; probeId: string }> & BatterySaid)
  | Readonly<{
      kind: "rejected";
      /** null where no probe claims the topic. */
      probeId: string | null;
      reason: RejectReason;
      /** Place and what was found there: printable, one line, at most 200 characters. */
      detail: string;
    }>;

export type Decoder = Readonly<{
  /** The filters to subscribe to, each once. */
  topicFilters: readonly string[];
  /** The probes that a topic speaks of. */
  claims(topic: string): readonly ProbeSource[];
  /**
   * Read one message for every probe that claims it. A message may give both readings and
   * rejections; for each probe at most one rejection a reason. Never throws.
   */
  decode(arrival: Arrival): readonly Decoded[];
}>;

const DETAIL_LENGTH = 200;
// Topics come from strangers, so what is remembered of them is bounded in number and in length.
const TOPICS_KEPT = 1024;
const TOPIC_LENGTH_KEPT = 256;

/** @throws {RangeError} on a topic filter or JSON Pointer with a fault */
export function openDecoder(sources: readonly ProbeSource[]): Decoder {
  for (const source of sources) checkSource(source);
  const readers = sources.map((source) => ({
    source,
    read: openPayloadReader(source),
    readBattery: batteryReaderOf(source),
  }));
  const known = new Map<string, readonly SourceReader[]>();

  function readersOf(topic: string): readonly SourceReader[] {
    const before = known.get(topic);
    if (before !== undefined) return before;
    const claiming = readers.filter(({ source }) => matchesTopic(source.topic, topic));
    if (topic.length <= TOPIC_LENGTH_KEPT) {
      if (known.size >= TOPICS_KEPT) known.clear();
      known.set(topic, claiming);
    }
    return claiming;
  }

  return {
    topicFilters: [...new Set(sources.map((source) => source.topic))],
    claims: (topic) => readersOf(topic).map(({ source }) => source),
    decode: (arrival) => decodeFor(readersOf(arrival.topic), arrival),
  };
}

/** A probe with what reads its payloads. */
type SourceReader = Readonly<{
  source: ProbeSource;
  read(payload: Payload): Content;
  readBattery: ((document: unknown) => BatterySaid | null) | null;
}>;

function batteryReaderOf({ payload, battery }: ProbeSource): SourceReader["readBattery"] {
  return battery === undefined || payload === "number" ? null : openBatteryReader(payload, battery);
}

function checkSource({ probeId, topic, payload, ...pointers }: ProbeSource): void {
  const fault = findTopicFilterFault(topic);
  if (fault !== null) throw new RangeError(`probe ${probeId}: topic "${topic}" ${fault}`);
  if (payload !== "json") return;
  const { temperature, humidity, time, battery } = pointers;
  for (const [key, pointer] of Object.entries({
    temperature,
    humidity,
    time,
    battery: battery?.at ?? null,
  })) {
    if (pointer !== null && parsePointer(pointer) === null) {
      throw new RangeError(`probe ${probeId}: ${key} "${pointer}" is no JSON Pointer`);
    }
  }
}

function decodeFor(readers: readonly SourceReader[], arrival: Arrival): readonly Decoded[] {
  const bytes = arrival.payload.byteLength;
  if (bytes > LARGEST_PAYLOAD_BYTES) {
    const detail = `payload of ${bytes} bytes, expected at most ${LARGEST_PAYLOAD_BYTES}`;
    const probeIds = readers.length === 0 ? [null] : readers.map(({ source }) => source.probeId);
    return probeIds.map((probeId) => ({ kind: "rejected", probeId, reason: "too-large", detail }));
  }
  if (readers.length === 0) {
    const detail = `topic "${printable(arrival.topic, 120)}" matches no probe's topic`;
    return [{ kind: "rejected", probeId: null, reason: "unclaimed", detail }];
  }
  const payload = parsePayload(arrival.payload);
  // The way nearly all messages go; each array less is felt in a flood.
  if (readers.length === 1) return finish(readers[0]!, arrival, payload);
  return readers.flatMap((reader) => finish(reader, arrival, payload));
}

/** Check what was read, say when it was taken, and gather the faults, one for each reason. */
function finish(reader: SourceReader, arrival: Arrival, payload: Payload): Decoded[] {
  const { source, read, readBattery } = reader;
  const { probeId } = source;
  const { measurements, faults: contentFaults } = read(payload);
  const decoded: Decoded[] = [];
  const faults: Fault[] = contentFaults.length === 0 ? [] : [...contentFaults];
  const times: (SensorTime | null)[] = [];
  for (const { time } of measurements) times.push(time);
  const stamps = stampMeasurements(times, arrival);
  for (let index = 0; index < measurements.length; index++) {
    const plausible = checkPlausible(measurements[index]!);
    for (const fault of plausible.faults) faults.push(fault);
    const { temperatureC, humidityPct } = plausible.measurement;
    const stamp = stamps[index]!;
    if (stamp.kind === "refused") faults.push(stamp);
    if (stamp.kind === "refused" || (temperatureC === null && humidityPct === null)) continue;
    decoded.push(
      stamp.kind === "at"
        ? {
            kind: "reading",
            reading: { probeId, takenAtMs: stamp.atMs, temperatureC, humidityPct },
          }
        : { kind: "untimed", probeId, temperatureC, humidityPct, ageMs: stamp.ageMs },
    );
  }
  const battery = readBattery === null ? null : readBattery(payload.document?.value);
  if (battery !== null) decoded.push({ kind: "battery", probeId, ...battery });
  return faults.length === 0 ? decoded : [...decoded, ...gatherFaults(probeId, faults)];
}

function gatherFaults(probeId: string, faults: readonly Fault[]): Decoded[] {
  const byReason = new Map<RejectReason, { detail: string; more: number }>();
  for (const { reason, detail } of faults) {
    const before = byReason.get(reason);
    if (before === undefined) byReason.set(reason, { detail, more: 0 });
    else before.more++;
  }
  return [...byReason].map(([reason, { detail, more }]) => {
    const full = more === 0 ? detail : `${printable(detail, 170)} (and ${more} more)`;
    return { kind: "rejected", probeId, reason, detail: printable(full, DETAIL_LENGTH) };
  });
}

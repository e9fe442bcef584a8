import { toCelsius } from "../shared/units.js";
import { parseDecimal } from "./decimal.js";
import { followPointer, type PointerPath, parsePointer } from "./json-pointer.js";
import { type Content, type Fault, faulty, NO_FAULTS } from "./measurement.js";
import { describeValue, printable } from "./printable.js";
import { readSensorTime } from "./sensor-time.js";
import type { ProbeSource } from "./source.js";

/**
 * Make ready to read JSON values by a probe's pointers, which are taken apart once and not for
 * each message. One quantity that is missing or wrong does not take the other with it. What is
 * returned never throws.
 */
export function openJsonReader(source: ProbeSource): (document: unknown) => Content {
  const temperaturePlace = placeOf("temperature", source.temperature);
  const humidityPlace = placeOf("humidity", source.humidity);
  if (temperaturePlace === null && humidityPlace === null)
    return () => faulty("pointer-missing", "neither temperature nor humidity has a pointer");
  const timePath = source.time === null ? null : parsePointer(source.time);
  return (document) => {
    const temperature = readNumber(document, temperaturePlace);
    const humidity = readNumber(document, humidityPlace);
    const temperatureIsNumber = typeof temperature === "number";
    const humidityIsNumber = typeof humidity === "number";
    const faults =
      isFault(temperature) || isFault(humidity)
        ? [temperature, humidity].filter(isFault)
        : NO_FAULTS;
    if (!temperatureIsNumber && !humidityIsNumber) return { measurements: [], faults };
    const measurement = {
      temperatureC: temperatureIsNumber ? toCelsius(temperature, source.unit) : null,
      humidityPct: humidityIsNumber ? humidity : null,
      time: timePath === null ? null : readSensorTime(followPointer(document, timePath)),
    };
    return { measurements: [measurement], faults };
  };
}

/** Where a quantity is: its path, null where the pointer is none, and how a fault names it. */
type Place = Readonly<{ path: PointerPath | null; quantity: string; pointer: string }>;

function placeOf(quantity: string, pointer: string | null): Place | null {
  return pointer === null ? null : { path: parsePointer(pointer), quantity, pointer };
}

function isFault(read: number | Fault | null): read is Fault {
  return typeof read === "object" && read !== null;
}

/**
 * Some boards quote their numbers, so text that is a plain decimal number will do. Our choice.
 *
 * @returns null where there is no place to look at
 */
function readNumber(document: unknown, place: Place | null): number | Fault | null {
  if (place === null) return null;
  const value = place.path === null ? undefined : followPointer(document, place.path);
  const number = typeof value === "string" ? parseDecimal(value) : value;
  if (typeof number === "number" && Number.isFinite(number)) return number;
  const said = `${place.quantity} at ${printable(place.pointer, 60)}`;
  if (value === undefined) return { reason: "pointer-missing", detail: `${said}: nothing there` };
  const detail = `${said}: found ${describeValue(value)}, expected a number`;
  return { reason: "not-a-number", detail };
}

import { writeToStream } from "mqtt-packet";

/**
 * Keep no buffer at hand for each of the 65,536 packet identifiers: the MQTT library would fill
 * 6 MB of heap with them at the first packet, and a few hundred acknowledgements a second, which
 * is all that is left to it, need no such haste. To be called before a packet is written.
 */
export function forgoNumberCache(): void {
  writeToStream.cacheNumbers = false;
}

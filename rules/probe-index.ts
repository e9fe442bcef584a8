import type { Site } from "../shared/site.js";

const indexes = new WeakMap<Site, ReadonlyMap<string, number>>();

/** Where each probe stands in the site; remembered for a site, which never changes. */
export function probeIndex(site: Site): ReadonlyMap<string, number> {
  let index = indexes.get(site);
  if (index === undefined) {
    index = new Map(site.probes.map((p, i) => [p.id, i]));
    indexes.set(site, index);
  }
  return index;
}

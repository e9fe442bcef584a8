/**
 * SenML packs and the records they resolve to.
 *
 * `FROM_THE_RFC`: RFC 8428, sections 5.1.1 to 5.1.7, as published at
 * https://www.rfc-editor.org/rfc/rfc8428, packs and resolved records from its authors' repository
 * (core-wg/senml-spec at aced339e9aaf, files exN.json and exN.gen.resolved.json). Changed by the
 * rules of section 4.6: example 3 put in time order, example 7 given back the record with "vd",
 * which the authors' generator dropped.
 *
 * `COMPUTED`: packs made for these tests, resolved by an independent program.
 *
 * `nowS` is the Unix time that relative times were resolved against. The file is longer than
 * others since the packs are given whole.
 */
export type Example = Readonly<{
  id: string;
  section: string;
  nowS: number | null;
  pack: readonly Readonly<Record<string, unknown>>[];
  resolved: readonly Readonly<Record<string, unknown>>[];
}>;

export const FROM_THE_RFC: readonly Example[] = [
  {
    id: "ex1",
    section: "5.1.1 single data point",
    nowS: 1498780179,
    pack: [{ n: "urn:dev:ow:10e2073a01080063", v: 23.1, u: "Cel" }],
    resolved: [{ n: "urn:dev:ow:10e2073a01080063", u: "Cel", t: 1498780179, v: 23.1 }],
  },
  {
    id: "ex2",
    section: '5.1.2 voltage and current "now"',
    nowS: 1498780179,
    pack: [
      { bn: "urn:dev:ow:10e2073a01080063:", n: "voltage", t: 0, u: "V", v: 120.1 },
      { n: "current", t: 0, u: "A", v: 1.2 },
    ],
    resolved: [
      { n: "urn:dev:ow:10e2073a01080063:voltage", u: "V", t: 1498780179, v: 120.1 },
      { n: "urn:dev:ow:10e2073a01080063:current", u: "A", t: 1498780179, v: 1.2 },
    ],
  },
  {
    id: "ex3",
    section: "5.1.2 (bver 5)",
    nowS: null,
    pack: [
      {
        bn: "urn:dev:ow:10e2073a0108006:",
        bt: 1276020076.001,
        bu: "A",
        bver: 5,
        n: "voltage",
        u: "V",
        v: 120.1,
      },
      { n: "current", t: -5, v: 1.2 },
      { n: "current", t: -4, v: 1.3 },
      { n: "current", t: -3, v: 1.4 },
      { n: "current", t: -2, v: 1.5 },
      { n: "current", t: -1, v: 1.6 },
      { n: "current", t: 0, v: 1.7 },
    ],
    resolved: [
      { n: "urn:dev:ow:10e2073a0108006:current", u: "A", t: 1276020071.001, v: 1.2 },
      { n: "urn:dev:ow:10e2073a0108006:current", u: "A", t: 1276020072.001, v: 1.3 },
      { n: "urn:dev:ow:10e2073a0108006:current", u: "A", t: 1276020073.001, v: 1.4 },
      { n: "urn:dev:ow:10e2073a0108006:current", u: "A", t: 1276020074.001, v: 1.5 },
      { n: "urn:dev:ow:10e2073a0108006:current", u: "A", t: 1276020075.001, v: 1.6 },
      { n: "urn:dev:ow:10e2073a0108006:voltage", u: "V", t: 1276020076.001, v: 120.1 },
      { n: "urn:dev:ow:10e2073a0108006:current", u: "A", t: 1276020076.001, v: 1.7 },
    ],
  },
  {
    id: "ex4",
    section: "5.1.2, with three records more than the RFC prints",
    nowS: null,
    pack: [
      { bn: "urn:dev:ow:10e2073a01080063", bt: 1320067464, bu: "%RH", v: 21.2, t: 0 },
      { v: 21.3, t: 10 },
      { v: 21.4, t: 20 },
      { v: 21.4, t: 30 },
      { v: 21.5, t: 40 },
      { v: 21.5, t: 50 },
      { v: 21.5, t: 60 },
      { v: 21.6, t: 70 },
      { v: 21.7, t: 80 },
      { v: 21.5, t: 90 },
      { v: 21.5, t: 91 },
      { v: 21.5, t: 92 },
    ],
    resolved: [
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067464, v: 21.2 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067474, v: 21.3 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067484, v: 21.4 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067494, v: 21.4 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067504, v: 21.5 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067514, v: 21.5 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067524, v: 21.5 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067534, v: 21.6 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067544, v: 21.7 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067554, v: 21.5 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067555, v: 21.5 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067556, v: 21.5 },
    ],
  },
  {
    id: "ex5",
    section: "5.1.3 multiple measurements -> 5.1.4 resolved",
    nowS: null,
    pack: [
      { bn: "urn:dev:ow:10e2073a01080063", bt: 1320067464, bu: "%RH", v: 20, t: 0 },
      { v: 24.30621, u: "lon", t: 0 },
      { v: 60.07965, u: "lat", t: 0 },
      { v: 20.3, t: 60 },
      { v: 24.30622, u: "lon", t: 60 },
      { v: 60.07965, u: "lat", t: 60 },
      { v: 20.7, t: 120 },
      { v: 24.30623, u: "lon", t: 120 },
      { v: 60.07966, u: "lat", t: 120 },
      { v: 98, u: "%EL", t: 150 },
      { v: 21.2, t: 180 },
      { v: 24.30628, u: "lon", t: 180 },
      { v: 60.07967, u: "lat", t: 180 },
    ],
    resolved: [
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067464, v: 20 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lon", t: 1320067464, v: 24.30621 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lat", t: 1320067464, v: 60.07965 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067524, v: 20.3 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lon", t: 1320067524, v: 24.30622 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lat", t: 1320067524, v: 60.07965 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067584, v: 20.7 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lon", t: 1320067584, v: 24.30623 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lat", t: 1320067584, v: 60.07966 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%EL", t: 1320067614, v: 98 },
      { n: "urn:dev:ow:10e2073a01080063", u: "%RH", t: 1320067644, v: 21.2 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lon", t: 1320067644, v: 24.30628 },
      { n: "urn:dev:ow:10e2073a01080063", u: "lat", t: 1320067644, v: 60.07967 },
    ],
  },
  {
    id: "ex6",
    section: "5.1.6 collection of resources",
    nowS: null,
    pack: [
      { bn: "2001:db8::2/", bt: 1320078429, n: "temperature", v: 25.2, u: "Cel" },
      { n: "humidity", v: 30, u: "%RH" },
      { bn: "2001:db8::1/", n: "temperature", v: 12.3, u: "Cel" },
      { n: "humidity", v: 67, u: "%RH" },
    ],
    resolved: [
      { n: "2001:db8::2/temperature", u: "Cel", t: 1320078429, v: 25.2 },
      { n: "2001:db8::2/humidity", u: "%RH", t: 1320078429, v: 30 },
      { n: "2001:db8::1/temperature", u: "Cel", t: 1320078429, v: 12.3 },
      { n: "2001:db8::1/humidity", u: "%RH", t: 1320078429, v: 67 },
    ],
  },
  {
    id: "ex7",
    section: "5.1.5 multiple data types",
    nowS: 1499109309,
    pack: [
      { bn: "urn:dev:ow:10e2073a01080063:", n: "temp", v: 23.1, u: "Cel" },
      { n: "label", vs: "Machine Room" },
      { n: "open", vb: false },
      { n: "nfv-reader", vd: "aGkgCg" },
    ],
    resolved: [
      { n: "urn:dev:ow:10e2073a01080063:temp", u: "Cel", t: 1499109309, v: 23.1 },
      { n: "urn:dev:ow:10e2073a01080063:label", t: 1499109309, vs: "Machine Room" },
      { n: "urn:dev:ow:10e2073a01080063:open", t: 1499109309, vb: false },
      { n: "urn:dev:ow:10e2073a01080063:nfv-reader", t: 1499109309, vd: "aGkgCg" },
    ],
  },
  {
    id: "ex9",
    section: "5.1.7 actuator",
    nowS: 1498780179,
    pack: [
      { bn: "urn:dev:ow:10e2073a01080063:" },
      { n: "temp", u: "Cel", v: 23.1 },
      { n: "heat", u: "/", v: 1 },
      { n: "fan", u: "/", v: 0 },
    ],
    resolved: [
      { n: "urn:dev:ow:10e2073a01080063:temp", u: "Cel", t: 1498780179, v: 23.1 },
      { n: "urn:dev:ow:10e2073a01080063:heat", u: "/", t: 1498780179, v: 1 },
      { n: "urn:dev:ow:10e2073a01080063:fan", u: "/", t: 1498780179, v: 0 },
    ],
  },
  {
    id: "ex12",
    section: "5.1.7 two lights",
    nowS: null,
    pack: [
      { bt: 1320078429, bu: "/", n: "2001:db8::3", v: 1 },
      { n: "2001:db8::4", v: 1 },
    ],
    resolved: [
      { n: "2001:db8::3", u: "/", t: 1320078429, v: 1 },
      { n: "2001:db8::4", u: "/", t: 1320078429, v: 1 },
    ],
  },
];

export const COMPUTED: readonly Example[] = [
  {
    id: "fridge-two-sensors",
    section: "two sensors in one pack",
    nowS: null,
    pack: [
      { bn: "urn:dev:mac:0024befffe804ff1:", bt: 1700000000, n: "temp", u: "Cel", v: 2.1 },
      { n: "rh", u: "%RH", v: 71.5 },
      { n: "temp", t: 60, u: "Cel", v: 2.2 },
    ],
    resolved: [
      { n: "urn:dev:mac:0024befffe804ff1:temp", u: "Cel", t: 1700000000, v: 2.1 },
      { n: "urn:dev:mac:0024befffe804ff1:rh", u: "%RH", t: 1700000000, v: 71.5 },
      { n: "urn:dev:mac:0024befffe804ff1:temp", u: "Cel", t: 1700000060, v: 2.2 },
    ],
  },
  {
    id: "base-value",
    section: "computed independently",
    nowS: null,
    pack: [
      { bn: "urn:dev:ow:1:", bu: "Cel", bv: 20, bt: 1700000000, n: "a", v: 1.5 },
      { n: "b", v: -0.25 },
      { bv: 0, n: "c", v: 3 },
    ],
    resolved: [
      { n: "urn:dev:ow:1:a", u: "Cel", t: 1700000000, v: 21.5 },
      { n: "urn:dev:ow:1:b", u: "Cel", t: 1700000000, v: 19.75 },
      { n: "urn:dev:ow:1:c", u: "Cel", t: 1700000000, v: 3 },
    ],
  },
  {
    id: "relative-boundary",
    section: "the last relative and the first absolute time",
    nowS: 1700000000,
    pack: [
      { n: "x", t: 268435455, v: 1 },
      { n: "x", t: 268435456, v: 2 },
    ],
    resolved: [
      { n: "x", t: 268435456, v: 2 },
      { n: "x", t: 1968435455, v: 1 },
    ],
  },
];

// Commits groups of readings to the store in the folder it is given, for ever, and says each
// group's last number once it is committed. Its parent kills it in the midst of that.
import { writeSync } from "node:fs";
import { openStore } from "../../../daemon/store/store.js";

const GROUP = 7;
const [, , folder, first] = process.argv;
const store = openStore(folder!, { timezone: "Europe/London" });
for (let n = Number(first); ; n += GROUP) {
  const readings = Array.from({ length: GROUP }, (_, i) => ({
    probeId: `probe-${(n + i) % 3}`,
    takenAtMs: Date.UTC(2026, 10, 1) + (n + i) * 10_000,
    temperatureC: ((n + i) % 100) / 10,
    humidityPct: 65,
  }));
  const judge = { state: JSON.stringify({ seen: n + GROUP }), atMs: n + GROUP };
  store.commit({ readings, findings: [], letters: [], judge, heard: [] }, []);
  writeSync(1, `${n + GROUP}\n`);
}

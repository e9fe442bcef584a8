import { expect, test } from "vitest";
import { batteryKey } from "../../../../daemon/probes/battery.js";
import { DAY_MS, MINUTE_MS } from "../../../../shared/time.js";
import { madeCheck } from "../../checks/made-checks.js";
import { NIGHT_MS } from "../../letters/quillmere.js";
import { visibleText } from "../../letters/visible-text.js";
import { doorFinding, NOTHING } from "../../store/temporary-store.js";
import { OWN_HOST, servePages } from "../served.js";

test("each probe says how far it can be believed, and what speaks against it", async () => {
  const { app, store } = servePages();
  const takenAtMs = NIGHT_MS - 2 * MINUTE_MS;
  const reading = { probeId: "shed-air", takenAtMs, temperatureC: 2.6, humidityPct: 66 };
  const wild = doorFinding({
    cause: "probe-wild",
    urgency: "note",
    startedAtMs: takenAtMs,
    comparedWith: "85.0 °C, which a DS18B20 holds after power-on until it has measured",
  });
  const noted = { value: 12, unit: "%", low: 20, atMs: takenAtMs };
  const facts = { [batteryKey("shed-air")]: JSON.stringify(noted) };
  store.commit({ ...NOTHING, readings: [reading], findings: [wild], facts }, []);
  store.checks.add(madeCheck(0.3, { madeAtMs: NIGHT_MS - 400 * DAY_MS }));
  const judge = { state: "{}", atMs: NIGHT_MS };
  const rest = { shifts: [], series: [], before: [], after: [], letters: [], judge };
  store.revise({ entryNo: store.checks.newestNo(), ...rest }, []);

  const { body } = await app.inject({ url: "/probes", headers: { host: OWN_HOST } });
  const text = visibleText(body).replace(/\s+/g, " ");
  // 2.6 °C as sent; the check found 0.3 °C too much.
  expect(text).toMatch(/Heard 2 minutes ago Temperature 2\.3 °C Humidity 66 %/);
  expect(text).toContain("Added by checks −0.30 °C");
  expect(text).toMatch(/Last checked \d+ December 2024 Check due \d+ December 2025 Battery 12 %/);
  expect(text).toContain("Probe wild since 11 January 2026: 85.0 °C, which a DS18B20 holds");
  expect(text).toContain("Its battery is low: on 11 January 2026 it had 12 %");
  expect(text).toContain("Its check is overdue since");
});

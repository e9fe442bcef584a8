import { execFile } from "node:child_process";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { expect, onTestFinished, test } from "vitest";
import { testFolder } from "../daemon/config/written-config.js";

const SCRIPT = fileURLToPath(new URL("../../.ci/audit.mjs", import.meta.url));

/** Run the audit against a registry on loopback that knows nothing but its advisories. */
async function auditAt(status: number, answer: object) {
  const server = createServer(({ method }, response) => {
    response.writeHead(method === "POST" ? status : 404, { "content-type": "application/json" });
    response.end(method === "POST" ? JSON.stringify(answer) : "{}");
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  onTestFinished(() => void server.close());
  const { port } = server.address() as AddressInfo;
  const args = [SCRIPT, "--registry", `http://127.0.0.1:${port}/`];
  // npm remembers advisories by their number.
  const env = { ...process.env, npm_config_fetch_retries: "0", npm_config_cache: testFolder() };
  return new Promise<{ code: unknown; said: string }>((resolve) => {
    execFile(process.execPath, args, { env }, (error, stdout) =>
      resolve({ code: error?.code ?? 0, said: stdout.trim() }),
    );
  });
}

/** An advisory as the registry's bulk answer has it, by name of the package. */
const advisory = (severity: string) => ({
  aedes: [
    {
      id: 1,
      url: "https://advisories.example/1",
      title: "a hole",
      severity,
      vulnerable_versions: "*",
      cwe: [],
      cvss: { score: 0, vectorString: null },
    },
  ],
});

test("a high finding fails the run, a low one and none do not", async () => {
  expect(await auditAt(200, advisory("high"))).toMatchObject({
    code: 1,
    said: expect.stringMatching(/^audit: 0 critical, 1 high/),
  });
  expect(await auditAt(200, advisory("low"))).toMatchObject({ code: 0 });
  expect(await auditAt(200, {})).toMatchObject({
    code: 0,
    said: expect.stringMatching(/^audit: 0 critical, 0 high/),
  });
}, 60_000);

test("a registry that answers nothing fails nothing, and it is said", async () => {
  const { code, said } = await auditAt(405, {});
  expect(code).toBe(0);
  expect(said).toMatch(/^audit NOT DONE: .+/);
}, 60_000);

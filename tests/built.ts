import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";

/** Black-box tests start the built command: build it where the sources are newer. */
export default function buildIfStale(): void {
  const script = fileURLToPath(new URL("../.ci/set-up.mjs", import.meta.url));
  execFileSync(process.execPath, [script], { stdio: ["ignore", "inherit", "inherit"] });
}

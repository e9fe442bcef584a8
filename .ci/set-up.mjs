// Makes a checkout ready to run: installs what package-lock.json names and builds dist/,
// each only where it is missing or out of date. Says nothing when there is nothing to do, and
// speaks on stderr only, so that `npm run -s drowse -- now --json` stays clean.
//
//   node .ci/set-up.mjs                 install and build
//   node .ci/set-up.mjs --for-tests     and a broker to test against (Debian, as root)
//   node .ci/set-up.mjs --with-browser  and a browser to test pages in (Debian, as root)
//
// Node built-ins only: it runs before anything is installed.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const OLDEST_NODE = 20;
const BUILD = ".tsconfig.build.json";
const SOURCES = ["shared", "rules", "sensors", "daemon", "tests/bench", "tests/pictures"];
const INSTALLED = join(ROOT, "node_modules", ".drowse-installed");
const BUILT = join(ROOT, "dist", ".drowse-built");

function say(text) {
  process.stderr.write(`set-up: ${text}\n`);
}

function stop(text) {
  say(text);
  process.exit(1);
}

function run(command, args) {
  const options = { cwd: ROOT, encoding: "utf8", maxBuffer: 64 * 1024 * 1024 };
  // npm is a script on Windows, which only a shell starts.
  const result = spawnSync(command, args, { ...options, shell: process.platform === "win32" });
  const output = `${result.stdout ?? ""}${result.stderr ?? ""}${result.error?.message ?? ""}`;
  return { ok: result.status === 0, output };
}

function refuseOldNode() {
  const major = Number(process.versions.node.split(".")[0]);
  if (major < OLDEST_NODE)
    stop(
      `this is Node ${process.versions.node}; Drowse needs ${OLDEST_NODE} or newer, see https://nodejs.org`,
    );
}

/** What native modules are built for; another Node may not load them. */
const BUILT_FOR = `abi ${process.versions.modules} ${process.platform} ${process.arch}\n`;

function isInstalled() {
  // npm writes this file last, so that an installation broken off has none.
  const inner = join(ROOT, "node_modules", ".package-lock.json");
  if (!existsSync(inner)) return false;
  if (statSync(inner).mtimeMs < statSync(join(ROOT, "package-lock.json")).mtimeMs) return false;
  if (existsSync(INSTALLED)) return readFileSync(INSTALLED, "utf8") === BUILT_FOR;
  writeFileSync(INSTALLED, BUILT_FOR);
  return true;
}

function installIfStale() {
  if (isInstalled()) return;
  say("installing packages, which takes some minutes the first time");
  // Building needs the development packages even where NODE_ENV says production.
  const args = ["ci", "--include=dev", "--no-audit", "--no-fund", "--loglevel=error"];
  const { ok, output } = run("npm", args);
  if (!ok) stop(`npm ci failed: ${cureFor(output)}\n${lastLines(output)}`);
  writeFileSync(INSTALLED, BUILT_FOR);
}

function cureFor(output) {
  if (/ENOTFOUND|EAI_AGAIN|ETIMEDOUT|ECONNREFUSED|ECONNRESET|ENETUNREACH|network/i.test(output))
    return "no network, or the package registry cannot be reached; check the connection or npm's proxy setting, then try again";
  if (/gyp ERR|not found: make|node-gyp/i.test(output))
    return "no ready-made better-sqlite3 for this machine and no compiler to make one; on Debian: apt install build-essential python3";
  if (/ENOSPC/.test(output)) return "the disk is full";
  if (/EACCES|EPERM|EROFS/.test(output)) return `this user may not write in ${ROOT}`;
  if (/ENOENT/.test(output) && /spawn/.test(output))
    return "npm is not on the PATH; it comes with Node";
  return "what npm said last";
}

function lastLines(output) {
  return output.trimEnd().split("\n").slice(-15).join("\n");
}

function newestMs(folder) {
  let newest = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) newest = Math.max(newest, newestMs(path));
    else if (/\.(ts|json)$/.test(entry.name)) newest = Math.max(newest, statSync(path).mtimeMs);
  }
  return newest;
}

function buildIfStale() {
  const folders = SOURCES.map((name) => join(ROOT, name)).filter((path) => existsSync(path));
  const configs = ["tsconfig.json", BUILD].map((name) => statSync(join(ROOT, name)).mtimeMs);
  const sourcesMs = Math.max(...configs, ...folders.map(newestMs));
  if (existsSync(BUILT) && statSync(BUILT).mtimeMs >= sourcesMs) return;
  say("building");
  const compiler = join(ROOT, "node_modules", "typescript", "bin", "tsc");
  const { ok, output } = run(process.execPath, [compiler, "-p", BUILD]);
  if (!ok) stop(`the build failed\n${lastLines(output)}`);
  writeFileSync(BUILT, "");
}

function isOnPath(program) {
  const folders = [...(process.env.PATH ?? "").split(":"), "/usr/sbin", "/usr/local/sbin"];
  return folders.some((folder) => folder !== "" && existsSync(join(folder, program)));
}

/** Bring a program for the tests through apt; where that cannot be, its tests are skipped. */
function bring(program, packages) {
  if (isOnPath(program)) return;
  const isRoot = process.getuid?.() === 0;
  if (isRoot && isOnPath("apt-get")) {
    say(`bringing ${packages.join(" and ")} for the tests`);
    const env = ["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"];
    run(env[0], [...env.slice(1), "-qq", "update"]);
    const { ok, output } = run(env[0], [...env.slice(1), "-qq", "-y", "install", ...packages]);
    if (ok && isOnPath(program)) return;
    say(`apt-get could not install them\n${lastLines(output)}`);
  }
  const cure = `apt install ${packages.join(" ")}`;
  if (process.env.CI === "true")
    stop(`${program} is missing, and with CI=true its tests must run: ${cure}`);
  say(`${program} is missing, so the tests that need it are skipped; as root: ${cure}`);
}

function hasBrowserTests() {
  const names = readdirSync(join(ROOT, "tests"), { recursive: true });
  return names.some((name) => name.endsWith(".browser.test.ts"));
}

/** @param flags any of --for-tests and --with-browser */
function setUp(flags) {
  refuseOldNode();
  installIfStale();
  buildIfStale();
  if (flags.includes("--for-tests")) {
    bring("mosquitto", ["mosquitto", "mosquitto-clients"]);
    bring("mosquitto_pub", ["mosquitto-clients"]);
  }
  if (flags.includes("--with-browser") || (flags.includes("--for-tests") && hasBrowserTests()))
    bring("chromium", ["chromium"]);
}

setUp(process.argv.slice(2));

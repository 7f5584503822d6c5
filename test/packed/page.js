/**
 * The library in a page of a browser, without a bundler: an import map and the files of the tarball. Needs a build (`npm
 * run page` makes one), the npm registry, and Chromium: on Debian the package `chromium` (apt-get install chromium), or the
 * command named by the environment variable CHROMIUM.
 */
import { execFile } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";
import { promisify } from "node:util";
import { finish, install, PROJECT, pack, step } from "./project.js";

const CHROMIUM = process.env["CHROMIUM"] ?? "chromium";
const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"];
const QUIET = ["--disable-background-networking", "--disable-component-update", "--disable-sync"];
const TYPES = new Map([
  [".html", "text/html"],
  [".js", "text/javascript"],
  [".mjs", "text/javascript"],
  [".json", "application/json"],
]);

install(pack());

const server = createServer((request, response) => {
  const path = normalize(new URL(request.url ?? "/", "http://localhost").pathname);
  try {
    const text = readFileSync(join(PROJECT, path));
    response.writeHead(200, { "content-type": TYPES.get(extname(path)) ?? "text/plain" }).end(text);
  } catch {
    response.writeHead(404).end();
  }
});
await new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(undefined)));
const address = server.address();
const port = typeof address === "object" && address !== null ? address.port : 0;

const profile = mkdtempSync(join(tmpdir(), "tripwright-page-"));
const shown = await promisify(execFile)(
  CHROMIUM,
  [
    ...FLAGS,
    ...QUIET,
    `--user-data-dir=${profile}`,
    "--virtual-time-budget=20000",
    "--dump-dom",
    `http://127.0.0.1:${port}/page.html`,
  ],
  { timeout: 90_000 },
).catch((error) => ({ stdout: `<pre>${error.message}</pre>` }));
server.close();
rmSync(profile, { recursive: true, force: true });

step("used from a page in Chromium", () => {
  const text = /<pre id="result">([^<]*)<\/pre>/.exec(shown.stdout)?.[1] ?? shown.stdout.slice(0, 2000);
  if (!text.startsWith("good:")) throw new Error(text);
  return text.slice(6).trim();
});
finish();

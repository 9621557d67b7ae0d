// SPDX-License-Identifier: Apache-2.0
// Runs the page's unit tests: each *.test.ts is bundled by the bundler that vite brings along, then
// given to Node's own test runner. `cd page && node test/run.mjs`
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { rolldown } from "rolldown";

const here = import.meta.dirname;
const out = mkdtempSync(join(tmpdir(), "page-test-"));
const tests = readdirSync(here).filter((name) => name.endsWith(".test.ts"));
try {
  for (const test of tests) {
    const bundle = await rolldown({ input: join(here, test), external: /^node:/, logLevel: "warn" });
    await bundle.write({ dir: out, entryFileNames: "[name].mjs", format: "esm" });
    await bundle.close();
  }
  const files = readdirSync(out).filter((name) => name.endsWith(".test.mjs"));
  const ran = spawnSync(process.execPath, ["--test", ...files.map((name) => join(out, name))], { stdio: "inherit" });
  process.exitCode = ran.status ?? 1;
} finally {
  rmSync(out, { recursive: true });
}

/** Run every test that lies beside what it tests: `npm test`, or `npm test store` for some by name. */

import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";

const [name = ""] = process.argv.slice(2);
const files = ["desk", "journal", "page", "practice", "sw", "sync"]
  .flatMap((folder) => readdirSync(folder, { recursive: true }).map((file) => join(folder, file)))
  .filter((file) => file.endsWith(".test.ts") && file.includes(name));
const options = ["--no-warnings", "--import", "./testing/typescript.js", "--test"];
const { status } = spawnSync(process.execPath, [...options, ...files], { stdio: "inherit" });
process.exitCode = files.length === 0 ? 1 : (status ?? 1);

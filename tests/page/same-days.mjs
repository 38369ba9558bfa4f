//! Fishes the same days with each program named and with the model for browsers, and compares every byte of
//! sessions.csv: `node same-days.mjs page-model.wasm.gz PROGRAM …`.

import { spawnSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { gunzipSync } from "node:zlib";

const [packed, ...programs] = process.argv.slice(2);
const root = path.resolve(import.meta.dirname, "../..");
const place = fs.mkdtempSync(path.join(os.tmpdir(), "same-days-"));

const code = new WebAssembly.Module(gunzipSync(fs.readFileSync(packed)));
// What a drawing library wants of browsers; the model never calls it.
const imports = {};
for (const { module, name } of WebAssembly.Module.imports(code)) {
  imports[module] ??= {};
  imports[module][name] = () => { throw new Error(`${name} is not here`); };
}
const { memory, room, answer, answer_at, answer_bytes } = (await WebAssembly.instantiate(code, imports)).exports;

function ask(name, query) {
  const request = new TextEncoder().encode(`${name}\n${query}\n`);
  // Making room may move the memory.
  const at = room(request.length);
  new Uint8Array(memory.buffer, at, request.length).set(request);
  const isWell = answer() === 1;
  const text = Buffer.from(memory.buffer, answer_at(), answer_bytes()).toString();
  if (!isWell) throw new Error(text);
  return text;
}

let failed = 0;
let sessions = 0;
const begun = performance.now();
// The page shows four plans at most.
const STUDIES = [
  ["tern-bar", 1, 100, ["bar-two-minutes", "bar-five-minutes", "bar-lead", "bar-then-margin"]],
  ["weathercock", 7, 60, []],
  ["quern-pool-winter", 3, 80, []],
];
for (const [scenario, seed, days, plans] of STUDIES) {
  const [started, used] = [performance.now(), process.cpuUsage()];
  const rows = ask("sessions", `day=1&scenario=${scenario}&run=same&seed=${seed}&days=${days}${plans.map((plan) => `&plan=${plan}`).join("")}`);
  const seconds = (performance.now() - started) / 1000;
  const { user, system } = process.cpuUsage(used);
  const count = rows.trim().split("\n").length - 1;
  sessions += count;
  console.log(`${scenario}: ${count} sessions under Node, ${(count / seconds).toFixed(0)} a second, ${((1e6 * count) / (user + system)).toFixed(0)} a second of processor time`);
  for (const program of programs) {
    const out = path.join(place, `${sessions}-${path.basename(path.dirname(program))}`);
    const run = spawnSync(path.resolve(program), ["compare", `scenarios/${scenario}.toml`, "--seed", seed, "--days", days, "--quiet", "--out", out, ...plans.flatMap((plan) => ["--plan", plan])], { cwd: root, encoding: "utf8" });
    const same = run.status === 0 && fs.readFileSync(path.join(out, "sessions.csv"), "utf8") === rows;
    if (!same) failed += 1;
    console.log(`${scenario}: ${program} ${same ? "writes the same bytes" : `DIFFERS ${run.stderr}`}`);
  }
}
console.log(`${sessions} sessions in ${((performance.now() - begun) / 1000).toFixed(0)} s`);
fs.rmSync(place, { recursive: true });
process.exit(failed || sessions < 800 ? 1 : 0);

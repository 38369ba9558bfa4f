//! Opens the page in one file from disk, on a narrow screen without a network, and reports what fails:
//! `node file.mjs PROGRAM`. The program must have the model for browsers inside.

import { spawnSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const program = path.resolve(process.argv[2]);
const root = path.resolve(import.meta.dirname, "../..");
const place = fs.mkdtempSync(path.join(os.tmpdir(), "page-file-"));
const file = path.join(place, "shoalwise.html");
const saved = spawnSync(program, ["page", "--save", file], { cwd: root, encoding: "utf8" });
console.log(saved.stdout || saved.stderr);
const found = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((name) => fs.existsSync(name));
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? found, args: ["--no-sandbox", "--disable-gpu"] });

let failed = saved.status === 0 ? 0 : 1;
const holds = (so, words) => {
  if (!so) failed += 1;
  console.log(`${so ? "ok  " : "FAIL"} ${words}`);
};
holds(fs.statSync(file).size < 3e6, `the file has ${(fs.statSync(file).size / 1e6).toFixed(2)} MB, less than 3`);

const context = await browser.newContext({ viewport: { width: 360, height: 740 }, offline: true });
const days = (page) => page.evaluate(() => Number(document.querySelector("[data-testid=days]")?.textContent.split(" ")[0] ?? 0));
const daysOf = (page, n) => page.waitForFunction((n) => Number(document.querySelector("[data-testid=days]")?.textContent.split(" ")[0]) >= n, n, { timeout: 240000 });

/** One view, opened again; nothing may be asked of any other address, and nothing may go wrong. */
async function view(hash, does) {
  const page = await context.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (message) => message.type() === "error" && wrong.push(message.text()));
  page.on("request", (request) => /^(file|blob|data):/.test(request.url()) || wrong.push(`asked ${request.url()}`));
  try {
    await page.goto(pathToFileURL(file) + hash);
    await does(page);
  } catch (error) {
    holds(false, `${hash}: ${error.message.split("\n").slice(0, 4).join(" | ")}`);
  }
  holds(wrong.length === 0, `nothing goes wrong at ${hash || "the start"}${wrong.map((words) => `: ${words}`).join("")}`);
  holds(await page.evaluate(() => document.documentElement.scrollWidth <= 360), `${hash || "the start"} is no wider than the screen`);
  if (process.env.PICTURES) await page.screenshot({ path: path.join(process.env.PICTURES, `file${hash.replace(/\W+/g, "-")}.png`) });
  await page.close();
}

await view("#days=200&seed=5", async (page) => {
  const begun = Date.now();
  await page.waitForSelector("svg.curves path.line", { timeout: 120000 });
  const first = Date.now() - begun;
  console.log(`     the first curve came after ${first} ms`);
  if (process.env.TIMED) holds(first < 1000, "the first curve comes within a second");
  await daysOf(page, 200);
  console.log(`     ${(800 / ((Date.now() - begun) / 1000)).toFixed(0)} sessions a second with ${await page.evaluate(() => navigator.hardwareConcurrency)} workers`);
  holds((await days(page)) === 200, "a comparison grows to its end");
  const shown = await page.getByTestId("verdict").textContent();
  holds(/95\s% sure/.test(shown), `a verdict is shown: ${shown.slice(0, 120)}`);
});
await view("#view=swim&scenario=first-try", async (page) => {
  await page.waitForSelector("canvas", { timeout: 120000 });
  const play = page.getByRole("button", { name: /play/i }).first();
  await play.click();
  const picture = () => page.evaluate(() => document.querySelector("canvas").toDataURL().length);
  const clock = () => page.evaluate(() => document.querySelector("main").innerText);
  const [before, words] = [await picture(), await clock()];
  await page.waitForTimeout(2500);
  holds((await picture()) !== before || (await clock()) !== words, "the swim plays");
});
await view("#view=lessons&days=40", async (page) => {
  await page.getByRole("button", { name: /^Begin/ }).first().click({ timeout: 60000 });
  await page.locator("input[name=guess]").first().click();
  await page.getByRole("button", { name: "Fish the days and see" }).click();
  await page.waitForFunction(() => document.querySelector("[data-testid=answer]")?.textContent.length > 10, null, { timeout: 240000 });
  holds(true, `a lesson answers: ${(await page.getByTestId("answer").textContent()).slice(0, 120)}`);
});
await browser.close();
fs.rmSync(place, { recursive: true });
process.exit(failed ? 1 : 0);

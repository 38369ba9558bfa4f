//! Opens the page in one file from disk in Firefox, as narrow as a phone and without a network, and reports what fails:
//! `node firefox.mjs shoalwise.html`.

import path from "node:path";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const file = pathToFileURL(path.resolve(process.argv[2])).href;
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr",
  headless: true,
  extraPrefsFirefox: { "network.manage-offline-status": false, "network.proxy.type": 1, "network.proxy.socks": "127.0.0.1", "network.proxy.socks_port": 9 },
});
let failed = 0;
const holds = (so, words) => {
  if (!so) failed += 1;
  console.log(`${so ? "ok  " : "FAIL"} ${words}`);
};

/** One view, opened again; nothing may go wrong. */
async function view(hash, does) {
  const page = await browser.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (message) => message.type() === "error" && wrong.push(message.text()));
  try {
    await page.setViewport({ width: 360, height: 740 });
    await page.goto(file + hash);
    await does(page);
  } catch (error) {
    holds(false, `${hash}: ${error.message.split("\n").slice(0, 4).join(" | ")}`);
  }
  holds(wrong.length === 0, `nothing goes wrong at ${hash}${wrong.map((words) => `: ${words}`).join("")}`);
  holds(await page.evaluate(() => document.documentElement.scrollWidth <= 360), `${hash} is no wider than the screen`);
  if (process.env.PICTURES) await page.screenshot({ path: path.join(process.env.PICTURES, `firefox${hash.replace(/\W+/g, "-")}.png`) });
  await page.close();
}

const clicks = (page, words) =>
  page.waitForFunction(
    (words) => {
      const button = [...document.querySelectorAll("button")].find((button) => new RegExp(words, "i").test(button.textContent.trim()) && !button.disabled);
      button?.click();
      return Boolean(button);
    },
    { timeout: 120000 },
    words,
  );

await view("#days=200&seed=5", async (page) => {
  const begun = Date.now();
  await page.waitForSelector("svg.curves path.line", { timeout: 120000 });
  console.log(`     the first curve came after ${Date.now() - begun} ms`);
  await page.waitForFunction(() => Number(document.querySelector("[data-testid=days]")?.textContent.split(" ")[0]) >= 200, { timeout: 240000 });
  console.log(`     ${(800 / ((Date.now() - begun) / 1000)).toFixed(0)} sessions a second`);
  const shown = await page.$eval("[data-testid=verdict]", (verdict) => verdict.textContent);
  holds(/95\s% sure/.test(shown), `a verdict is shown: ${shown.slice(0, 120)}`);
});
await view("#view=swim&scenario=first-try", async (page) => {
  await page.waitForSelector("canvas", { timeout: 120000 });
  await page.waitForFunction(() => /Day 1: /.test(document.querySelector("main").innerText), { timeout: 120000 });
  const picture = () => page.evaluate(() => document.querySelector("canvas").toDataURL().length + document.querySelector("main").innerText);
  const before = await picture();
  await page.click("button.play");
  let plays = false;
  for (let tries = 0; tries < 60 && !plays; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    plays = (await picture()) !== before;
  }
  holds(plays, "the swim plays");
});
await view("#view=lessons&days=40", async (page) => {
  await clicks(page, "^Begin");
  await page.waitForSelector("input[name=guess]", { timeout: 60000 });
  await page.$eval("input[name=guess]", (guess) => guess.click());
  await clicks(page, "Fish the days and see");
  await page.waitForFunction(() => document.querySelector("[data-testid=answer]")?.textContent.length > 10, { timeout: 240000 });
  holds(true, `a lesson answers: ${await page.$eval("[data-testid=answer]", (answer) => answer.textContent.slice(0, 120))}`);
});
await browser.close();
process.exit(failed ? 1 : 0);

//! Photographs every screen of the page at three sizes, light, dark and as paper, into a folder, and says what is too wide
//! or cut off: `node shots.mjs PROGRAM FOLDER [PART OF A NAME]`.

import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [program, folder, only, ...files] = process.argv.slice(2);
const root = path.resolve(import.meta.dirname, "../..");
fs.mkdirSync(folder, { recursive: true });
const served = spawn(path.resolve(program), ["page", "scenarios/tern-bar.toml", "--no-open", "--host", "0.0.0.0"], { cwd: root, stdio: ["ignore", "pipe", "ignore"] });
const address = await new Promise((resolve) => served.stdout.once("data", (data) => resolve(String(data).split(" ")[0])));
const found = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((file) => fs.existsSync(file));
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? found, args: ["--no-sandbox", "--disable-gpu"] });

const SIZES = [["phone", 360, 740], ["laptop", 1280, 720], ["projector", 1920, 1080]];
const finished = (page) => page.waitForFunction(() => /^([\d,]+) of \1 days/.test(document.querySelector("[data-testid=days]")?.textContent ?? ""), null, { timeout: 180000 });
const swim = async (page) => {
  await page.locator("canvas.plan").first().waitFor();
  await page.waitForTimeout(400);
};

/** Two casts, a fish and the answer of "What now?", as on the bank. */
async function fishABit(page) {
  await page.clock.setFixedTime(new Date(2026, 7, 15, 9, 0));
  await page.reload();
  await page.locator("#bank-line").fill("bar");
  await page.locator("#bank-bait").fill("corn");
  await page.getByRole("button", { name: "Cast" }).click();
  await page.clock.setFixedTime(new Date(2026, 7, 15, 9, 4));
  await page.getByRole("button", { name: "Bite" }).click();
  await page.getByRole("button", { name: "Landed" }).waitFor();
}
async function ask(page) {
  await page.getByLabel("Weight, lb").fill("5");
  await page.getByRole("button", { name: "Landed" }).click();
  await page.getByRole("button", { name: "Cast" }).click();
  await page.clock.setFixedTime(new Date(2026, 7, 15, 9, 40));
  await page.getByRole("button", { name: "Ask" }).click();
  await page.getByTestId("advice").locator(".way, .fault").first().waitFor({ timeout: 180000 });
}

const SCREENS = [
  ["compare", "#days=200", finished],
  ["compare-changed", "#plan=bar-five-minutes&plan=bar-lead&days=60", async (page) => {
    await finished(page);
    await page.locator('[data-key="plan.bar-five-minutes.recast"]').press("ArrowRight");
    await page.locator("[data-testid=changed]").getByText("on the same").waitFor();
    await page.evaluate(() => { for (const node of document.querySelectorAll("main details")) node.open = true; });
  }],
  ["one-plan", "#plan=bar-lead&days=20", finished],
  ["fault", "#set=plan.bar-five-minutes.recast%3Dten", (page) => page.getByRole("alert").waitFor()],
  ["swim", "#view=swim&swim=bar-five-minutes&at=6160", swim],
  ["swim-fish", "#view=swim&swim=bar-five-minutes&at=9000", async (page) => {
    await swim(page);
    await page.locator("#fish").selectOption({ index: 5 });
    await page.waitForTimeout(200);
  }],
  ["swim-two", "#view=swim&swim=bar-five-minutes&swim=bar-lead&day=3&at=6160", swim],
  ["lessons", "#view=lessons", (page) => page.locator(".list h2").first().waitFor()],
  ["lesson", "#view=lessons&lesson=too-much&days=60", (page) => page.locator("input[name=guess]").first().waitFor()],
  ["lesson-answer", "#view=lessons&lesson=too-much&days=60", async (page) => {
    await page.locator("input[name=guess]").first().check();
    await page.getByRole("button", { name: "Fish the days and see" }).click();
    await page.getByRole("button", { name: "See a day of it" }).waitFor({ timeout: 120000 });
  }],
  ["log", "#view=log", (page) => page.getByRole("button", { name: "Cast" }).waitFor()],
  ["log-bite", "#view=log", fishABit],
  ["log-now", "#view=log&days=60", async (page) => { await fishABit(page); await ask(page); }],
  ["class-compare", "?class#days=100", finished],
  ["class-swim", "?class#view=swim&swim=bar-five-minutes&at=6160", swim],
  ["class-two", "?class#view=swim&swim=bar-five-minutes&swim=bar-lead&at=6160", swim],
  ["class-lesson", "?class#view=lessons&lesson=too-much&days=60", (page) => page.locator("input[name=guess]").first().waitFor()],
  ["class-log", "?class#view=log", (page) => page.getByRole("button", { name: "Cast" }).waitFor()],
];
for (const file of files) SCREENS.push([path.basename(path.dirname(file)) + "-" + path.basename(file, ".html"), pathToFileURL(file).href, (page) => page.waitForTimeout(300)]);

/** What is wider than the screen or cut off, in words. */
const cut = (page) => page.evaluate(() => {
  const name = (node) => `${node.tagName.toLowerCase()}${node.id ? `#${node.id}` : ""}.${node.getAttribute("class") ?? ""} "${node.textContent.trim().slice(0, 40)}"`;
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  const shown = [...document.querySelectorAll("body *")].filter((node) => node.checkVisibility() && !node.closest(".unseen, .skip, #said"));
  const over = shown.filter((node) => !node.closest("svg") && node.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && node.children.length === 0 && node.textContent.trim());
  const scrolls = shown.filter((node) => node.scrollWidth > node.clientWidth + 1 && node.clientWidth > 0 && getComputedStyle(node).overflowX !== "visible");
  const texts = [...document.querySelectorAll("svg text")].filter((node) => node.checkVisibility()).map((node) => [node, node.getBoundingClientRect()]);
  const clash = texts.flatMap(([a, r], n) => texts.slice(n + 1).filter(([b, s]) => a.ownerSVGElement === b.ownerSVGElement && r.left + 1 < s.right && s.left + 1 < r.right && r.top + 4 < s.bottom && s.top + 4 < r.bottom).map(([b]) => `"${a.textContent}" over "${b.textContent}"`));
  const small = shown.filter((node) => [...node.childNodes].some((child) => child.nodeType === 3 && child.data.trim()) && parseFloat(getComputedStyle(node).fontSize) < 11 && !node.closest("svg"));
  return [wide > 0 ? `${wide} px too wide` : "", ...over.slice(0, 4).map((node) => `over the edge: ${name(node)}`), ...scrolls.slice(0, 4).map((node) => `scrolls or is cut: ${name(node)}`),
    ...clash.slice(0, 4), ...small.slice(0, 2).map((node) => `small type: ${name(node)}`)].filter(Boolean);
});

for (const [name, hash, ready] of SCREENS) {
  if (only && only !== "-" && !name.match(only)) continue;
  for (const [size, width, height] of SIZES) {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme: "light" });
    if (process.env.FROM_DISK) {
      await context.route(/\.(js|css)$/, (route) => {
        const name = path.basename(new URL(route.request().url()).pathname);
        const file = ["", "frame/"].map((folder) => path.join(root, "sim/web/page", folder + name)).find((file) => fs.existsSync(file));
        return file ? route.fulfill({ path: file }) : route.continue();
      });
    }
    const page = await context.newPage();
    page.on("pageerror", (error) => console.log(`${name} ${size}: ${error.message}`));
    const say = async (how) => { for (const words of await cut(page)) console.log(`${name} ${size} ${how}: ${words}`); };
    try {
      await page.goto(hash.startsWith("file:") ? hash : address + hash);
      await ready(page);
      for (const colorScheme of ["light", "dark"]) {
        await page.emulateMedia({ colorScheme });
        await page.evaluate(() => dispatchEvent(new Event("resize")));
        await page.waitForTimeout(350);
        if (colorScheme === "light") await say("light");
        await page.screenshot({ path: path.join(folder, `${name}.${size}.${colorScheme}.png`), fullPage: true });
      }
      await page.emulateMedia({ media: "print", colorScheme: "light" });
      await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
      await page.waitForTimeout(300);
      await say("print");
      if (size === "projector") await page.pdf({ path: path.join(folder, `${name}.pdf`), format: "A4" });
      else await page.screenshot({ path: path.join(folder, `${name}.${size}.print.png`), fullPage: true });
    } catch (error) {
      console.log(`${name} ${size}: ${error.message.split("\n").slice(0, 3).join(" | ")}`);
      await page.screenshot({ path: path.join(folder, `${name}.${size}.failed.png`) }).catch(() => {});
    }
    await context.close();
  }
}
await browser.close();
served.kill("SIGINT");

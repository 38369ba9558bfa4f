//! Drives the local page in headless Chromium against the real program, and reports what fails.

import { spawn, spawnSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";
import { noteWords, wordsInTheWay } from "./words.mjs";

const axe = fs.readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const program = path.resolve(process.argv[2]);
const root = path.resolve(import.meta.dirname, "../..");
const place = fs.mkdtempSync(path.join(os.tmpdir(), "page-"));
const only = process.argv[3];

const found = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((file) => fs.existsSync(file));
const served = spawn(program, ["page", "scenarios/tern-bar.toml", "--no-open"], { cwd: root, stdio: ["ignore", "pipe", "ignore"] });
const address = await new Promise((resolve) => served.stdout.once("data", (data) => resolve(String(data).split(" ")[0])));
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? found, args: ["--no-sandbox", "--disable-gpu"] });

let faults = [];
const failed = [];
const holds = (so, words) => {
  if (so) return;
  faults.push(words);
  console.log(`  NOT SO: ${words}`);
};

/** Checks a time that depends on the load of the machine: only where TIMED is set. */
const timed = (so, words) => process.env.TIMED && holds(so, words);

/** Runs one test on a page of its own, on which no error may occur. Other programs on a shared machine can disturb
 * a browser, so a test that fails is run once more, and both results are printed. */
async function test(name, options, hash, does) {
  if (only && !name.includes(only)) return;
  for (const attempt of ["first", "second"]) {
    faults = [];
    await tried(options, hash, does);
    console.log(`${faults.length ? `FAIL (${attempt} try)` : "ok  "} ${name}`);
    if (!faults.length) return;
  }
  failed.push([name, faults]);
}

async function tried({ faulty, ...options }, hash, does) {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 }, acceptDownloads: true, ...options });
  const page = await context.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (message) => message.type() === "error" && !faulty && wrong.push(message.text()));
  page.on("request", (request) => request.url().startsWith(address) || request.url().startsWith("blob:") || wrong.push(`asked ${request.url()}`));
  try {
    await page.goto(address + hash);
    await does(page, context);
  } catch (error) {
    holds(false, error.message.split("\n").slice(0, 6).join(" | "));
  }
  holds(wrong.length === 0, `something went wrong on the page: ${wrong.join("; ")}`);
  await context.close();
}

const verdict = (page) => page.getByTestId("verdict").locator(".first");
const days = async (page) => Number((await page.getByTestId("days").textContent()).split(" ")[0]);
const daysOf = (page, n) => page.waitForFunction((n) => Number(document.querySelector("[data-testid=days]")?.textContent.split(" ")[0]) >= n, n, { timeout: 120000 });
const finished = (page) => page.waitForFunction(() => /^(\d+) of \1 days/.test(document.querySelector("[data-testid=days]")?.textContent ?? ""), null, { timeout: 180000 });
const dial = (key) => `[data-key="${key}"]`;
const FEW = "&days=60";

/** Accessibility errors that the checker calls serious or critical. */
async function serious(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return violations.filter(({ impact }) => ["serious", "critical"].includes(impact))
    .map(({ id, nodes }) => `${id}: ${nodes.slice(0, 3).map((node) => node.target.join(" ")).join(", ")}`);
}

const wide = async (page) => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

await test("curves grow, the verdict appears and its interval tightens", {}, "#days=2000", async (page) => {
  const interval = async () => {
    const words = await page.getByTestId("verdict").textContent();
    const [low, high] = words.match(/95\s% sure: (.*?) to (.*?)\)/).slice(1).map((w) => {
      const [, minus, lb, oz] = w.match(/^(−)?(?:(\d+)\slb)?\s?(?:(\d+)\soz)?/);
      return (minus ? -1 : 1) * (Number(lb ?? 0) * 16 + Number(oz ?? 0));
    });
    return high - low;
  };
  await daysOf(page, 25);
  const first = await interval();
  await daysOf(page, Math.max(160, 4 * (await days(page))));
  holds((await interval()) < first, "the interval is no narrower with more days");
  holds((await page.locator("path.span").count()) === 4 && (await page.locator("path.line:not(.sign *, .span)").count()) === 4, "four curves, and where each ends on eight days in ten");
  holds((await page.locator("path.band").count()) === 1, "one band at a time where four would cover one another");
  await page.locator("#band").selectOption("bar-lead");
  await page.locator("path.band.plan-3").waitFor();
});

await test("a slider moves the curves within half a second, and stale runs are ignored", {}, "#plan=bar-five-minutes&plan=bar-twelve-minutes&days=2000", async (page) => {
  await daysOf(page, 12);
  const slider = page.locator(dial("plan.bar-five-minutes.recast"));
  const heard = () => page.evaluate(() => [Number(document.querySelector("[data-run]").dataset.run.split(".")[1]), Number(document.querySelector("[data-testid=days]").textContent.split(" ")[0])]);
  const before = await page.evaluate(() => document.querySelector("path.line.plan-0").getAttribute("d"));
  const took = await slider.evaluate((input, before) => new Promise((done) => {
    const begun = performance.now();
    const run = () => document.querySelector("[data-run]").dataset.run;
    const old = run();
    const watch = new MutationObserver(() => {
      const line = document.querySelector("svg.curves path.line.plan-0")?.getAttribute("d");
      if (line && line !== before && run() !== old) { watch.disconnect(); done(performance.now() - begun); }
    });
    watch.observe(document.body, { subtree: true, childList: true, characterData: true });
    input.value = Number(input.value) + 5;
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }), before);
  console.log(`     the first curve came ${took.toFixed(0)} ms after the change`);
  timed(took < 500, `the first curve took ${took.toFixed(0)} ms`);
  await page.waitForURL(/set=plan\.bar-five-minutes\.recast%3D/);
  for (let n = 0; n < 6; n += 1) await slider.press("ArrowLeft");
  let last = await heard();
  for (let n = 0; n < 40; n += 1) {
    const now = await heard();
    holds(now[0] > last[0] || (now[0] === last[0] && now[1] >= last[1]), `run ${last} was followed by ${now}: a stale run was heard`);
    last = now;
    await page.waitForTimeout(30);
  }
  await page.getByRole("button", { name: "Cancel" }).click();
  await page.getByText("Stopped; the figures").waitFor();
  const text = await verdict(page).textContent();
  await page.waitForTimeout(600);
  holds(text === (await verdict(page).textContent()), "after a cancel nothing changes");
});

await test("a link reproduces the state, and the same link the same verdict", {}, `#plan=bar-five-minutes&plan=slow&copy=bar-five-minutes:slow&set=plan.slow.recast%3D6+min&seed=7&units=metric${FEW}`, async (page, context) => {
  await finished(page);
  const text = await page.getByTestId("verdict").textContent();
  holds(/slow/.test(text) && /\skg/.test(text), `a copied plan in kilograms: ${text}`);
  const other = await context.newPage();
  await other.goto(page.url());
  await finished(other);
  holds(text === (await other.getByTestId("verdict").textContent()), "the same link gives the same verdict");
  holds((await other.locator(dial("plan.slow.recast")).getAttribute("aria-valuetext")) === "6 min", "the slider stands where the link says");
});

await test("an exported scenario gives the same numbers on the command line", {}, `#plan=bar-five-minutes&plan=bar-twelve-minutes&set=plan.bar-twelve-minutes.recast%3D4+min&set=plan.bar-five-minutes.load%3D35+g${FEW}`, async (page) => {
  await finished(page);
  const shown = await page.getByTestId("verdict").locator("p").allTextContents();
  await page.locator(".more summary").click();
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Export" }).click()]);
  const file = path.join(place, download.suggestedFilename());
  await download.saveAs(file);
  const said = spawnSync(program, ["compare", file, "--days", "60", "--quiet", "--out", path.join(place, "out")], { encoding: "utf8" });
  holds(said.status === 0, `the command line takes the file: ${said.stderr}`);
  const words = said.stdout.replaceAll(/\s+/g, " ");
  for (const line of shown) holds(words.includes(line.replaceAll(/\s+/g, " ")), `the command line says "${line}"`);
});

await test("the replay plays, scrubs, steps, and shows the story of one fish", {}, "#view=swim&swim=bar-five-minutes&at=3000", async (page) => {
  await page.locator("canvas.plan").waitFor();
  const clock = () => page.locator(".clock").textContent();
  holds((await clock()) === "0:50:00", `the link says when: ${await clock()}`);
  await page.getByRole("button", { name: "Play" }).click();
  await page.waitForFunction(() => document.querySelector(".clock").textContent > "0:50:30");
  await page.getByRole("button", { name: "Pause" }).click();
  await page.getByRole("button", { name: "Play" }).waitFor();
  const played = await clock();
  await page.waitForTimeout(300);
  holds(played === (await clock()), `paused at ${played}, it stands`);
  await page.locator("#scrub").fill("9000");
  holds((await clock()) === "2:30:00", "it scrubs");
  await page.getByRole("button", { name: "Event ▶" }).click();
  const after = await clock();
  await page.getByRole("button", { name: "◀ Event" }).click();
  holds((await clock()) <= after, "it steps forwards and back");
  const pixels = await page.locator("canvas.plan").evaluate((canvas) => new Set(canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data).size);
  holds(pixels > 60, "something is drawn");
  await page.locator("#fish").selectOption({ index: 5 });
  await page.locator("section[aria-labelledby=one-fish] li").first().waitFor();
  // The story of a netted fish names the line that it noticed and a reason.
  const netted = await page.evaluate(async () => {
    const film = await (await fetch("/api/film?scenario=tern-bar&plan=bar-five-minutes&day=1")).json();
    return film.catches[0][1];
  });
  await page.locator("#fish").selectOption(`0:${netted}`);
  await page.locator("#scrub").fill("18000");
  const story = await page.locator("section[aria-labelledby=one-fish]").textContent();
  holds(/(smells|sees others|hears)/.test(story) && /netted/.test(story), `its story: ${story}`);
});

await test("the swim is drawn again when the device turns dark", { colorScheme: "light" }, "#view=swim&swim=bar-five-minutes&at=3000", async (page) => {
  await page.locator("canvas.plan").waitFor();
  const corner = () => page.locator("canvas.side").evaluate((canvas) => canvas.getContext("2d").getImageData(6, 6, 1, 1).data[0]);
  await page.waitForTimeout(300);
  holds((await corner()) > 200, "light at first");
  await page.emulateMedia({ colorScheme: "dark" });
  await page.waitForTimeout(300);
  holds((await corner()) < 80, "and dark then");
});

await test("two plans are replayed in parallel", {}, "#view=swim&swim=bar-five-minutes&swim=bar-lead&day=3&at=5000", async (page) => {
  await page.locator("canvas.plan").nth(1).waitFor();
  holds((await page.locator("section.pane").count()) === 2, "two panes");
  await page.locator("#scrub").fill("12000");
  holds((await page.locator(".clock").textContent()) === "3:20:00", "one clock for both");
});

await test("the replay runs at thirty frames a second with 150 fish", {}, "#view=swim&swim=bar-five-minutes&set=shoal.bar-fish.count%3D110&set=shoal.reed-fish.count%3D40&set=book.fish.passing_share%3D0", async (page) => {
  await page.locator("#fish option").nth(150).waitFor({ state: "attached" });
  holds((await page.locator("#fish option").count()) === 151, "150 fish");
  await page.getByRole("button", { name: "Play" }).click();
  const frames = () => page.locator(".replay").evaluate((node) => Number(node.dataset.frames ?? 0));
  await page.waitForTimeout(500);
  const [a, from] = [await frames(), Date.now()];
  await page.waitForTimeout(4000);
  const rate = ((await frames()) - a) / ((Date.now() - from) / 1000);
  console.log(`     ${rate.toFixed(0)} frames a second`);
  timed(rate >= 30, `${rate.toFixed(1)} frames a second`);
});

await test("each lesson asks first and then measures", {}, `#view=lessons${FEW}`, async (page) => {
  await page.locator(".list h2").first().waitFor();
  const titles = await page.locator(".list h2").allTextContents();
  holds(titles.length === 5, `five lessons: ${titles}`);
  for (const title of titles) {
    await page.getByRole("button", { name: `Begin: ${title}` }).click();
    const button = page.getByRole("button", { name: "Fish the days and see" });
    holds(await button.isDisabled(), `${title}: the question comes first`);
    holds((await page.getByTestId("answer").count()) === 0, `${title}: no answer before it is measured`);
    await page.locator("input[name=guess]").first().check();
    await button.click();
    await page.getByRole("button", { name: "See a day of it" }).waitFor({ timeout: 120000 });
    const answer = await page.getByTestId("answer").textContent();
    holds(/^You said /.test(answer), `${title}: ${answer}`);
    console.log(`     ${title}: ${answer}`);
    const shown = await page.locator("form .tick, .answer p").allTextContents();
    holds(shown.every((words) => !/\b(\d+-(min|g)|fed-all-day|top-2)\b/.test(words)), `${title}: choices are shown in words: ${shown.join(" | ")}`);
    await page.getByRole("button", { name: "All lessons" }).click();
  }
});

await test("no line ends at a hyphen of a plan's name on a phone", { viewport: { width: 360, height: 740 } }, `#plan=bar-five-minutes&plan=bar-twelve-minutes${FEW}`, async (page) => {
  await finished(page);
  const names = await page.locator(".verdict .whole, .details li .whole").evaluateAll((nodes) => nodes.map((node) => [node.textContent, node.getBoundingClientRect().height / parseFloat(getComputedStyle(node).lineHeight)]));
  holds(names.length >= 2, `names in sentences: ${names.length}`);
  for (const [name, lines] of names) holds(lines < 1.5, `${name} takes ${lines} lines`);
});

await test("a lesson leads to the swim and to the comparison", {}, `#view=lessons&lesson=too-much${FEW}`, async (page) => {
  await page.locator("input[name=guess]").first().check();
  await page.getByRole("button", { name: "Fish the days and see" }).click();
  await page.getByRole("button", { name: "See a day of it" }).click({ timeout: 120000 });
  await page.locator("canvas.plan").nth(1).waitFor();
  await page.goBack();
  await page.getByRole("heading", { name: "Can one feed too much?" }).waitFor();
});

await test("all important functions work with the keyboard alone", {}, `#plan=bar-five-minutes&plan=bar-twelve-minutes${FEW}`, async (page) => {
  await finished(page);
  const reached = [];
  for (let n = 0; n < 40; n += 1) {
    await page.keyboard.press("Tab");
    reached.push(await page.evaluate(() => document.activeElement.id || document.activeElement.textContent.slice(0, 30)));
    if (reached.at(-1) === "dial-plan-bar-five-minutes-recast") break;
  }
  holds(reached.at(-1) === "dial-plan-bar-five-minutes-recast", `tabbing reaches the slider: ${reached.join(" → ")}`);
  await page.keyboard.press("ArrowRight");
  await page.waitForFunction(() => location.hash.includes("recast"));
  await finished(page);
  holds((await page.evaluate(() => document.activeElement.id)) === "dial-plan-bar-five-minutes-recast", "the slider keeps the focus while results come");
  await page.goto(`${address}#view=swim&swim=bar-five-minutes`);
  await page.locator("canvas.plan").waitFor();
  await page.locator("canvas.plan").focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  holds((await page.locator(".clock").textContent()) !== "", "keys step in the picture");
  await page.keyboard.press("Space");
  await page.getByRole("button", { name: "Pause" }).waitFor();
  await page.keyboard.press("Space");
  await page.getByRole("button", { name: "Play" }).waitFor();
});

await test("with reduced motion the replay jumps from event to event", { reducedMotion: "reduce" }, "#view=swim&swim=bar-five-minutes&at=2000", async (page) => {
  await page.locator("canvas.plan").waitFor();
  await page.getByRole("button", { name: "Play" }).click();
  await page.waitForFunction(() => document.querySelector(".clock").textContent > "0:33:20");
  holds((await page.locator(".replay").getAttribute("data-frames")) === null, "no frames are run through");
});

await test("errors are reported, and the page continues to work", { faulty: true }, "#scenario=no-such-water", async (page, context) => {
  await page.getByRole("alert").waitFor();
  const other = await context.newPage();
  await other.goto(`${address}#set=plan.bar-five-minutes.recast%3Dten`);
  await other.getByText("plan.bar-five-minutes.recast").first().waitFor();
  await other.getByRole("button", { name: "Take all changes back" }).click();
  await other.locator("svg.curves").waitFor();
  holds(!other.url().includes("set="), "what could not be fished is taken back");
  await other.goto(`${address}#plan=%F0%9F%90%9F&days=1e9&day=%00&swim=x&view=%3Cb%3E`);
  await other.locator(".top").waitFor();
});

await test("a few days are too early for a verdict", {}, "#plan=bar-five-minutes&plan=bar-lead&days=20", async (page) => {
  await finished(page);
  holds((await verdict(page).textContent()) === "20 days so far: too early to say.", `the first words are ${await verdict(page).textContent()}`);
  const weight = await page.getByTestId("verdict").locator("p").nth(1).evaluate((node) => Number(getComputedStyle(node).fontWeight));
  holds(weight < 600, "and what the days say so far is not in bold");
});

await test("settings, figures and the link fit a small projector", { viewport: { width: 1280, height: 720 } }, `${FEW.replace("&", "#")}`, async (page) => {
  await finished(page);
  holds((await page.locator(".top").boundingBox()).height < 90, "the settings stand in one line");
  holds(await page.locator(".scroll").evaluate((node) => node.scrollWidth <= node.clientWidth), "no column of the figures is cut off");
  holds((await page.locator("svg.curves .label").allTextContents()).every((name) => !name.includes("…")), "no name is cut in the chart");
  holds((await page.locator("#scenario option:checked").textContent()) === "Tern Bar, five-hour match in August", "the list of waters shows their titles");
  await page.getByRole("button", { name: "Copy link" }).click();
  await page.locator(".said.shown").waitFor();
  holds(/link/.test(await page.locator(".said").textContent()), "copying the link is answered on the page");
  holds(!/--days/.test(await page.locator("main").textContent()), "no option of the command line is named");
});

await test("the swim is seen whole, with what is what, and does not tell its end", { viewport: { width: 1280, height: 720 } }, "#view=swim&swim=bar-five-minutes&at=4000", async (page) => {
  for (const second of ["", "bar-lead"]) {
    if (second) await page.locator("#swim-b").selectOption(second);
    await page.locator("canvas.plan").nth(second ? 1 : 0).waitFor();
    const [map, legend] = [await page.locator("canvas.plan").first().boundingBox(), await page.locator(".legend ul").boundingBox()];
    holds(map.y + map.height <= 720, `the map ends at ${map.y + map.height} px`);
    holds(legend.y > 0 && legend.y + legend.height <= map.y, "what is what stands above it");
    // Right of the present minute nothing is drawn but the ground and the line at the top.
    const shades = await page.locator("canvas.weight").evaluate((canvas) => {
      const ratio = canvas.width / canvas.clientWidth;
      const [left, top] = [Math.round(canvas.width * 0.4), Math.round(24 * ratio)];
      const { data } = canvas.getContext("2d").getImageData(left, top, canvas.width - left, canvas.height - top);
      return [...new Set(Array.from({ length: data.length / 4 }, (_, n) => data.slice(4 * n, 4 * n + 3).join()))];
    });
    const allowed = shades.every((shade) => { const [r, g, b] = shade.split(",").map(Number); return Math.max(r, g, b) - Math.min(r, g, b) < 30; });
    holds(allowed, `no plan's colour stands right of the present minute: ${shades}`);
  }
  holds(!/\d\s(oz|lb|kg)/.test(await page.locator("#status").textContent()), "nor is the end announced");
  holds((await page.locator("section.pane h2").allTextContents()).join() === "A: bar-five-minutes,B: bar-lead", "A and B are explained");
});

await test("imperial units are not mixed with metric ones", {}, "#view=swim&swim=bar-five-minutes&at=9000", async (page) => {
  await page.locator("canvas.plan").waitFor();
  const metric = /\d\s?(kg|cm|km\/h|°F)/;
  holds(/°C/.test(await page.locator(".weather").textContent()) && !metric.test(await page.locator(".weather").textContent()), `the weather: ${await page.locator(".weather").textContent()}`);
  await page.locator("#fish").selectOption({ index: 5 });
  holds(/\d\sin:/.test(await page.locator("section[aria-labelledby=one-fish] b").textContent()), "the length of a fish is in inches");
  await page.goto(`${address}#plan=bar-lead${FEW}`);
  await finished(page);
  await page.locator(".water summary").click();
  const settings = await page.locator(".controls").innerText();
  holds(/mph/.test(settings) && !metric.test(settings), `the settings: ${settings.replaceAll("\n", " ").slice(-200)}`);
});

await test("each view has a title of its own, and a link of the page keeps the focus", {}, `#plan=bar-lead${FEW}`, async (page) => {
  await finished(page);
  const titles = [await page.title()];
  for (const view of ["Swim", "Lessons"]) {
    await page.getByRole("link", { name: view }).focus();
    await page.keyboard.press("Enter");
    await page.waitForFunction((before) => document.title !== before, titles.at(-1));
    titles.push(await page.title());
    holds((await page.evaluate(() => document.activeElement.id)) === "main", `after ${view} the focus is in the content`);
  }
  holds(new Set(titles).size === 3 && titles.every((title) => title.endsWith("shoalwise")), `titles: ${titles.join(" | ")}`);
});

await test("plans that weigh the same are level, neither ahead nor behind", {}, `#plan=bar-lead&plan=twin&copy=bar-lead:twin${FEW}`, async (page) => {
  await finished(page);
  const ahead = await page.locator("section:has(> h2:text-is('Days ahead'))").textContent();
  holds(/weigh the same on every day/.test(ahead) && !/ahead of/.test(ahead), `days ahead: ${ahead}`);
});

const changed = (page) => page.getByTestId("changed");

await test("what a moved setting did is said once enough days are in", {}, `#plan=bar-five-minutes&plan=bar-lead${FEW}`, async (page) => {
  await finished(page);
  holds(!(await changed(page).isVisible()), "nothing has changed at first");
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowRight");
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowRight");
  await changed(page).getByText("too early to say").waitFor();
  await changed(page).getByText("on the same 60 days").waitFor();
  const words = await changed(page).textContent();
  holds(/^Changed: bar-five-minutes, recast after: 5 min → 8 min\./.test(words), `what was moved: ${words}`);
  holds(/lb.* → .*expected.*95\s% sure: /.test(words) && !/bar-lead:/.test(words), `what it did, to this plan only: ${words}`);
  // The same numbers come from the days themselves.
  const { difference, means } = await page.evaluate(async () => {
    const weights = async (recast) => new Promise((resolve) => {
      const source = new EventSource(`/api/live?scenario=tern-bar&plan=bar-five-minutes&set=plan.bar-five-minutes.recast%3D${recast}+min&days=60&seed=1&tab=t${recast}&run=r${recast}`);
      source.addEventListener("days", (event) => { const all = JSON.parse(event.data); if (all.days === 60) { source.close(); resolve([all.weights_g[0], all.comparison.plans[0].weight_kg.mean]); } });
    });
    const [before, now] = [await weights(5), await weights(8)];
    return { difference: now[1] - before[1], means: [before, now].map(([g, mean]) => g.reduce((sum, each) => sum + each, 0) / 60000 - mean) };
  });
  holds(means.every((off) => Math.abs(off) < 1e-6), "the days add up to the mean");
  const ounces = Math.round(Math.abs(difference) / 0.45359237 * 16);
  const shown = words.match(/\(([+−])?(?:(\d+)\slb\s)?(\d+)\soz, 95/u);
  holds(Number(shown[2] ?? 0) * 16 + Number(shown[3]) === ounces && (shown[1] === "−") === (difference < 0), `the difference is ${ounces} oz: ${words}`);
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowLeft");
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowLeft");
  await page.waitForFunction(() => document.querySelector("[data-testid=changed]").hidden);
});

await test("a setting moved at once is compared with days that are fished afterwards", {}, `#plan=bar-five-minutes${FEW}`, async (page) => {
  await page.locator(dial("plan.bar-five-minutes.load")).waitFor();
  await daysOf(page, 4);
  await page.locator(dial("plan.bar-five-minutes.load")).press("ArrowRight");
  await changed(page).getByText(/on the same [56]\d days/).waitFor({ timeout: 60000 });
});

await test("too few days say nothing about a change, and no change is no difference", {}, "#plan=bar-five-minutes&days=20", async (page) => {
  await finished(page);
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowRight");
  await changed(page).getByText("too early to say what it did (20 days so far)").waitFor();
  const said = await page.evaluate(async () => {
    const { effect, pairedDifference } = await import("/changes.js");
    const days = Array.from({ length: 64 }, (_, day) => 1000 * (day % 8));
    const more = days.map((g, day) => g + (day % 2 ? 2000 : 0));
    return [effect("p", days, days, "metric"), pairedDifference(days, more), effect("p", days, more, "metric")];
  });
  holds(/no difference on any of 64 days/.test(said[0]), said[0]);
  // Half the days gain 2 kg: mean 1 kg, standard deviation 1.008 kg, standard error 0.126 kg, t 1.998.
  holds(Math.abs(said[1].mean - 1) < 1e-12 && Math.abs(said[1].low - (1 - 1.998 * 0.126)) < 1e-3, `the interval is ${said[1].low} to ${said[1].high}`);
  holds(!/no clear difference/.test(said[2]), said[2]);
});

await test("a plan whose settings are no longer the file's is marked", {}, `#plan=bar-five-minutes&plan=bar-lead${FEW}`, async (page) => {
  await finished(page);
  holds((await page.locator(".badge").count()) === 0, "no plan is marked at first");
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowRight");
  await page.locator(".cards .badge").waitFor();
  holds((await page.locator(".card:has(.badge) h2").textContent()).startsWith("bar-five-minutes"), "the plan that was changed");
  holds(/recast after 5 min → 6 min/.test(await page.locator(".changes").textContent()), await page.locator(".changes").textContent());
  await finished(page);
  holds((await page.locator("svg.curves .label").allTextContents()).some((name) => name.endsWith("bar-five-minutes, now 6 min")), "its name in the chart follows the setting");
  await page.locator(".card:has(.badge)").getByRole("button", { name: "Reset" }).click();
  await page.waitForFunction(() => !document.querySelector(".badge"));
});

await test("the class view is big and bare, by button, key and address", { viewport: { width: 1280, height: 720 } }, `?class#plan=bar-five-minutes&plan=bar-lead${FEW}`, async (page) => {
  await finished(page);
  const bare = async () => !(await page.locator(".controls").isVisible()) && !(await page.locator("#days").isVisible());
  const size = () => verdict(page).evaluate((node) => parseFloat(getComputedStyle(node).fontSize));
  holds(await bare(), "the address opens it");
  const big = await size();
  holds((await page.locator("svg.curves").boundingBox()).height > 0.45 * 720, "the picture is half of the screen");
  holds((await wide(page)) <= 0, "nothing overflows");
  await page.keyboard.press("F8");
  await finished(page);
  holds(!(await bare()) && !page.url().includes("?class"), "a key leaves it");
  const small = await size();
  holds(big > 1.4 * small, `its type is larger: ${big} px against ${small} px`);
  await page.getByRole("button", { name: "Class view" }).click();
  await page.getByRole("button", { name: "Leave class view" }).waitFor();
  holds((await bare()) && page.url().includes("?class"), "a button opens it, and the address says so");
  await page.getByRole("link", { name: "Swim" }).click();
  await page.locator("canvas.plan").waitFor();
  const map = await page.locator("canvas.plan").first().boundingBox();
  holds(map.y + map.height <= 720, `the swim is seen whole: it ends at ${map.y + map.height} px`);
  await page.keyboard.press("Space");
  await page.getByRole("button", { name: "Pause" }).waitFor();
});

await test("print has title, settings and every column, and no buttons", { viewport: { width: 718, height: 1000 } }, `#plan=bar-five-minutes&plan=bar-lead${FEW}`, async (page) => {
  await finished(page);
  await page.emulateMedia({ media: "print" });
  for (const name of ["Cancel", "Copy link", "Reset"]) holds((await page.getByRole("button", { name }).count()) === 0 || !(await page.getByRole("button", { name }).first().isVisible()), `${name} is not printed`);
  const paper = await page.locator(".paper").innerText();
  holds(/Tern Bar/.test(paper) && /seed\) 1/.test(paper) && /recast after 5 min/.test(paper), `on paper: ${paper}`);
  holds(await page.locator(".scroll").evaluate((node) => node.scrollWidth <= node.clientWidth), "no column is cut off");
  const colour = await page.locator(".bar .fill").first().evaluate((node) => getComputedStyle(node).printColorAdjust);
  holds(colour === "exact", "bars keep their colour");
});

await test("a lesson prints as a handout with the answer on a second page", { viewport: { width: 718, height: 1000 } }, `#view=lessons&lesson=too-much${FEW}`, async (page) => {
  await page.locator("input[name=guess]").first().check();
  await page.getByRole("button", { name: "Fish the days and see" }).click();
  await page.getByRole("button", { name: "See a day of it" }).waitFor({ timeout: 120000 });
  await page.emulateMedia({ media: "print" });
  holds(!(await page.getByRole("button", { name: "Fish the days and see" }).isVisible()), "no buttons are printed");
  const front = await page.locator(".handout").innerText();
  const [question, answer] = front.split("The answer");
  holds(/Can one feed too much/.test(question) && /5\sg/.test(question) && !/Measured/.test(question), `the front: ${question}`);
  holds(/Measured on 60 days/.test(answer) && /150\sg/.test(answer), `the back: ${answer}`);
  holds((await page.locator(".second-page").evaluate((node) => getComputedStyle(node).breakBefore)) === "page", "the answer begins a page");
  const pages = (await page.pdf({ format: "A4" })).toString("latin1").match(/\/Type\s*\/Page\b/g).length;
  holds(pages >= 2 && pages <= 3, `the handout has ${pages} pages`);
});

await test("the bank log takes casts with two taps, keeps them, undoes slips, and is a catch log", {}, "#view=log", async (page) => {
  await page.locator("#bank-line[placeholder=bar]").waitFor();
  holds((await page.locator("#bank-bait").getAttribute("placeholder")) === "banded-pellet", "the examples are of this water");
  await page.locator("#bank-line").fill("far-bank");
  // The next tap comes straight from the field.
  await page.locator("#bank-bait").fill("corn");
  const tap = async (name, says) => {
    await page.getByRole("button", { name, exact: true }).click();
    await page.getByTestId("entries").locator("li").first().getByText(says).waitFor();
  };
  await tap("Cast", "cast to far-bank, corn");
  await tap("Bite", "bite");
  holds(!/ y /.test(await page.getByTestId("entries").textContent()), "no keys to type are named where there are buttons");
  await page.getByRole("spinbutton", { name: "Weight, lb" }).fill("3");
  await page.getByRole("spinbutton", { name: "Weight, oz" }).fill("4");
  await tap("Landed", "landed 3 lb 4 oz");
  await tap("Cast", "cast to far-bank");
  await tap("Robbed", "robbed");
  holds(await page.getByRole("button", { name: "Bite", exact: true }).isDisabled(), "without a bait out there is no bite");
  await tap("Cast", "cast to far-bank");
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByTestId("entries").locator("li").first().getByText("robbed").waitFor();
  await page.reload();
  await page.getByTestId("entries").locator("li").first().getByText("robbed").waitFor();
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Download the log" }).click()]);
  const file = path.join(place, download.suggestedFilename());
  await download.saveAs(file);
  const rows = fs.readFileSync(file, "utf8").trim().split("\n");
  holds(rows.length === 3 && rows[0].startsWith("session,date,cast_at,line") && /yes,3 lb 4 oz,,corn/.test(rows[1]) && /robbed/.test(rows[2]), `the log: ${rows.join(" | ")}`);
  const read = spawnSync(program, ["learn", file, "--out", path.join(place, "learned")], { encoding: "utf8" });
  holds(read.status === 0 && /2 casts/.test(read.stdout), `learn reads it: ${read.stdout.slice(0, 200)}${read.stderr}`);
});

await test("an entry of the bank log that cannot be recorded is reported and not kept", { faulty: true }, "#view=log", async (page) => {
  await page.locator("#bank-line").fill("far-bank");
  await page.locator("#bank-feeder").fill("a lot");
  await page.locator("#bank-feeder").blur();
  await page.getByRole("button", { name: "Cast", exact: true }).click();
  await page.getByRole("alert").getByText("a lot").waitFor();
  holds((await page.evaluate(() => JSON.parse(localStorage.getItem("bank-log")).entries.length)) === 0, "nothing is kept of it");
  await page.locator("#bank-feeder").fill("25 g");
  await page.locator("#bank-feeder").blur();
  await page.getByRole("button", { name: "Cast", exact: true }).click();
  await page.getByTestId("entries").locator("li").first().getByText("cast to far-bank, 25 g").waitFor();
});

/** A bank log of this browser: casts of three minutes on a line, every third with a fish, the last one still out. */
const keepLog = (page, line, casts = 20) => page.evaluate(([line, casts]) => {
  const now = new Date();
  const date = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
  const midnight = new Date(now.getFullYear(), now.getMonth(), now.getDate());
  // Just after midnight the session is of the day before.
  const sinceS = Math.round((now - midnight) / 1000);
  const beforeS = sinceS < 200 * casts ? 86400 : 0;
  const day = new Date(midnight - 1000 * beforeS);
  const startS = sinceS + beforeS - 180 * casts + 60;
  const entries = [`${startS} l ${line}`];
  for (let cast = 0; cast < casts; cast += 1) {
    const at = startS + 180 * cast;
    entries.push(`${at} c`);
    if (cast === casts - 1) break;
    entries.push(...(cast % 3 === 0 ? [`${at + 100} b`, `${at + 150} y 3 lb 4 oz`] : [`${at + 170} w`]));
  }
  const written = beforeS ? [day.getFullYear(), day.getMonth() + 1, day.getDate()].map((n) => String(n).padStart(2, "0")).join("-") : date;
  localStorage.setItem("bank-log", JSON.stringify({ session: "today", date: written, entries }));
}, [line, casts]);

for (const viewport of [{ width: 360, height: 740 }, { width: 1280, height: 720 }]) {
  await test(`what now is asked from the bank log, ${viewport.width} pixels wide`, { viewport }, "#view=log", async (page) => {
    // In the middle of the match, which is from noon to five.
    await page.clock.setFixedTime(new Date(2026, 7, 15, 14, 0));
    const advice = page.getByTestId("advice");
    await advice.getByText("No cast is written down yet").waitFor();
    holds(await page.getByRole("button", { name: "Ask" }).isDisabled(), "without a cast there is nothing to ask");
    await keepLog(page, "bar");
    await page.reload();
    await page.getByTestId("entries").locator("li").first().waitFor();
    await page.getByRole("button", { name: "Ask" }).click();
    await advice.getByText("The rest of the day is fished many times").waitFor();
    await advice.locator(".way").first().waitFor({ timeout: 120000 });
    const lead = await advice.locator(".lead").innerText();
    holds(/^(Stay with|Better than) /.test(lead), `the advice comes first: ${lead}`);
    const ways = await advice.locator("> ol .way strong").allInnerTexts();
    holds(ways[0] === "as planned" && ways.length === 5, `the plan stands first: ${ways.join(", ")}`);
    holds(/20 casts, 7 bites/.test(await advice.innerText()), `what was written down is counted: ${(await advice.innerText()).slice(0, 300)}`);
    await advice.locator("details summary").click();
    holds((await advice.locator(".way:visible").count()) > 8, "the others are unfolded");
    holds((await wide(page)) <= 0, "it is no wider than the screen");
    const errors = await serious(page);
    holds(errors.length === 0, `accessibility: ${errors.join("; ")}`);
    if (process.env.PICTURES) await page.screenshot({ path: path.join(process.env.PICTURES, `now-${viewport.width}.png`), fullPage: true });
    await page.getByRole("button", { name: "Bite", exact: true }).click();
    await advice.getByText("The log has changed since: ask again.").waitFor();
  });
}

await test("what now says in words why it cannot advise, and takes a learned book", { faulty: true, viewport: { width: 360, height: 740 } }, "#view=log", async (page) => {
  await page.clock.setFixedTime(new Date(2026, 7, 15, 14, 0));
  await keepLog(page, "nowhere");
  await page.reload();
  await page.getByTestId("entries").locator("li").first().waitFor();
  await page.getByRole("button", { name: "Ask" }).click();
  await page.getByTestId("advice").getByText("has no line").waitFor();
  holds(await page.getByRole("button", { name: "Ask" }).isEnabled(), "it can be asked again");
  if (process.env.PICTURES) await page.screenshot({ path: path.join(process.env.PICTURES, "now-refused.png"), fullPage: true });
  await keepLog(page, "bar");
  await page.reload();
  await page.getByTestId("entries").locator("li").first().waitFor();
  await page.getByText("Learned book", { exact: true }).click();
  const file = (name, text) => page.locator("#now-book").setInputFiles({ name, mimeType: "application/toml", buffer: Buffer.from(text) });
  await file("wrong.toml", "[");
  await page.getByText("wrong.toml is laid over the scenario.").waitFor();
  await page.getByRole("button", { name: "Ask" }).click();
  await page.getByTestId("advice").getByText("the learned book has a fault").waitFor();
  await page.getByRole("button", { name: "Leave it out" }).click();
  await page.getByRole("button", { name: "Ask" }).click();
  await page.getByTestId("advice").locator(".way").first().waitFor({ timeout: 120000 });
});

await test("a page for a class has a QR code of its address", { viewport: { width: 1280, height: 720 } }, "", async (page) => {
  const open = spawn(program, ["page", "scenarios/tern-bar.toml", "--no-open", "--host", "0.0.0.0"], { cwd: root, stdio: ["ignore", "pipe", "ignore"] });
  try {
    const shown = await new Promise((resolve) => open.stdout.once("data", (data) => resolve(String(data).split(" ")[0])));
    holds(!shown.includes("0.0.0.0"), `an address that can be typed is printed: ${shown}`);
    const { addresses } = await (await fetch(`${shown}api/shelf`)).json();
    if (!addresses.length) return console.log("     this machine has no network: no code is shown");
    holds(addresses[0] === shown, `other machines reach it at ${addresses}`);
    const [plain, link] = await Promise.all(["", "%23view%3Dswim"].map(async (part) => (await fetch(`${shown}api/qr?link=${part}`)).text()));
    holds(plain.startsWith("<?xml") && plain.includes("<svg") && link.length > plain.length, "the code is a picture of the address and what is shown");
    const other = await page.context().newPage();
    await other.goto(`${shown}?class#plan=bar-lead&days=20`);
    await other.waitForFunction(() => document.querySelector(".qr img")?.naturalWidth > 100);
    await other.locator(".qr button").click();
    holds((await other.locator(".qr").count()) === 0, "a click takes it away");
    await other.close();
  } finally {
    open.kill("SIGINT");
  }
});

await test("a phone shows the first plan's settings and folds the others, and its class view fits", { viewport: { width: 360, height: 740 } }, `#plan=bar-five-minutes&plan=bar-then-margin${FEW}`, async (page) => {
  await finished(page);
  const open = () => page.locator(".cards > details").evaluateAll((cards) => cards.map((card) => card.open));
  holds((await open()).join() === "true,false", `open cards: ${await open()}`);
  await page.locator(".cards h2", { hasText: "bar-then-margin" }).click();
  holds((await open()).join() === "true,true", "a folded card opens");
  // A changed setting draws the cards again, as they were.
  await page.locator(dial("plan.bar-five-minutes.recast")).press("ArrowRight");
  await page.locator(".cards .badge").waitFor();
  holds((await open()).join() === "true,true", "an opened card stays open");
  for (const hash of ["", "#view=swim&swim=bar-five-minutes&at=4000"]) {
    await page.goto(`${address}?class${hash}`);
    await page.getByRole("button", { name: "Leave class view" }).waitFor();
    await page.waitForTimeout(250);
    holds((await wide(page)) <= 0, `the class view is ${await wide(page)} px too wide`);
  }
});

const WIDTHS = [[1366, 768], [768, 1024], [360, 740]];
for (const [width, height] of WIDTHS) {
  for (const colorScheme of ["light", "dark"]) {
    const options = { viewport: { width, height }, colorScheme };
    await test(`nothing overflows and no serious accessibility error at ${width} px, ${colorScheme}`, options, `#plan=bar-five-minutes&plan=bar-lead${FEW}`, async (page) => {
      await finished(page);
      const views = [["compare", ""], ["swim", "#view=swim&swim=bar-five-minutes&at=4000"], ["lessons", "#view=lessons"], ["lesson", "#view=lessons&lesson=on-the-bar"], ["log", "#view=log"]];
      for (const [name, hash] of views) {
        if (hash) await page.goto(address + hash);
        if (name === "swim") await page.locator("canvas.plan").waitFor();
        await page.waitForTimeout(250);
        holds((await wide(page)) <= 0, `${name} is ${await wide(page)} px too wide`);
        const faults = await serious(page);
        holds(faults.length === 0, `${name}: ${faults.join("; ")}`);
        await page.emulateMedia({ media: "print", colorScheme });
        holds((await wide(page)) <= 0, `${name} is ${await wide(page)} px too wide on paper`);
        await page.emulateMedia({ media: "screen", colorScheme });
        await page.keyboard.press("F8");
        holds((await wide(page)) <= 0, `${name} is ${await wide(page)} px too wide in the class view`);
        await page.keyboard.press("F8");
      }
      const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
      const dark = ground.match(/\d+/g).slice(0, 3).every((part) => Number(part) < 80);
      holds(dark === (colorScheme === "dark"), `the ground is ${ground}`);
    });
  }
}

for (const [width, height] of [[360, 740], [1280, 720]]) {
  await test(`no words are hidden or cut at ${width} px`, { viewport: { width, height } }, `#plan=bar-two-minutes&plan=bar-then-margin${FEW}`, async (page, context) => {
    await finished(page);
    const cut = await page.locator(".figures .scroll").evaluate((node) => [node, ...node.querySelectorAll("td, th")].filter((cell) => cell.scrollWidth > cell.clientWidth + 1 || cell.getBoundingClientRect().right > node.getBoundingClientRect().right + 1).map((cell) => cell.textContent));
    holds(cut.length === 0, `figures are cut off: ${cut.join(" | ")}`);
    await context.addInitScript(noteWords);
    for (const swim of ["tern-bar&swim=bar-five-minutes&swim=bar-then-margin", "weathercock", "stair-pool", "tinsel-pool", "elbow-pool", "lantern-pool", "riddle-mere"]) {
      await page.goto(`${address}#view=swim&scenario=${swim}&at=7000`);
      await page.reload();
      await page.locator("canvas.plan").first().waitFor();
      await page.waitForFunction(() => document.querySelector("canvas.plan").words?.length > 1);
      const wrong = await wordsInTheWay(page);
      holds(wrong.length === 0, `${swim}: ${wrong.join("; ")}`);
    }
  });
}

// Screenshots for the README, taken where SHOALWISE_BLESS is set.
if (process.env.SHOALWISE_BLESS) {
  const pictures = path.join(root, "scenarios/pictures");
  await test("picture: compare", { viewport: { width: 1366, height: 900 }, colorScheme: "light" }, "#days=400", async (page) => {
    await finished(page);
    await page.screenshot({ path: path.join(pictures, "page-compare.png") });
  });
  await test("picture: swim", { viewport: { width: 1366, height: 900 }, colorScheme: "light" }, "#view=swim&swim=bar-five-minutes&swim=bar-lead&day=3&at=6160", async (page) => {
    await page.locator("canvas.plan").nth(1).waitFor();
    await page.waitForTimeout(500);
    await page.screenshot({ path: path.join(pictures, "page-swim.png") });
  });
  await test("picture: phone", { viewport: { width: 360, height: 740 }, colorScheme: "dark" }, "#plan=bar-five-minutes&plan=bar-twelve-minutes&days=400", async (page) => {
    await finished(page);
    await page.screenshot({ path: path.join(pictures, "page-phone.png") });
  });
}

await browser.close();
served.kill("SIGINT");
fs.rmSync(place, { recursive: true, force: true });
for (const [name, words] of failed) console.log(`did not hold: ${name}\n  ${words.join("\n  ")}`);
if (!failed.length) console.log("all of it holds");
process.exit(failed.length ? 1 : 0);

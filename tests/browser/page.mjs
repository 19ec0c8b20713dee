// The page in a real browser: a newcomer types what a pencil wrote on the form, gets a no, picks a thinner unit, and takes
// everything away; by pointer, by keyboard alone, and by touch on a phone. What is found wrong ends the script with 1.
//
//   node page.mjs ADDRESS MEASURES FOLDER WAY     (FILLISTER_BROWSER: the folder with node_modules)
import fs from "node:fs";
import path from "node:path";
import { createRequire } from "node:module";

const require = createRequire(path.join(process.env.FILLISTER_BROWSER, "here.js"));
const { chromium } = require("playwright-core");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const [address, measures, folder, way] = process.argv.slice(2);
const lines = fs.readFileSync(measures, "utf8").split("\n").filter((line) => line && !line.startsWith("#"));
const wrong = [];

const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
const phone = way === "touch";
const context = await browser.newContext({
  viewport: phone ? { width: 360, height: 740 } : { width: 1440, height: 900 },
  hasTouch: phone,
  isMobile: phone,
  acceptDownloads: true,
});
const page = await context.newPage();
page.on("pageerror", (error) => wrong.push(`script: ${error.message}`));
page.on("console", (message) => message.type() === "error" && wrong.push(`console: ${message.text()}`));
page.on("request", (request) => request.url().startsWith(address) || wrong.push(`fetched: ${request.url()}`));

// Goes to an element and acts on it in the way asked for.
let strokes = 0;
async function reach(locator) {
  if (way !== "keyboard") return;
  const wanted = await locator.elementHandle();
  for (let tab = 0; tab < 600; tab++) {
    if (await wanted.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`no way by keyboard to ${await locator.first().evaluate((element) => element.outerHTML.slice(0, 90))}`);
}
async function press(locator) {
  await reach(locator);
  strokes += 1;
  if (way === "keyboard") await page.keyboard.press((await locator.evaluate((one) => one.tagName)) === "INPUT" ? "Space" : "Enter");
  else if (phone) await locator.tap();
  else await locator.click();
}
async function type(locator, text) {
  if ((await locator.evaluate((one) => one.tagName)) === "SELECT") {
    strokes += 1;
    await reach(locator);
    if (way === "keyboard") await page.keyboard.type(text);
    else await locator.selectOption(text);
    return;
  }
  await reach(locator);
  strokes += text.length;
  if (way === "keyboard") {
    await page.keyboard.press("Control+A");
    await page.keyboard.type(text);
  } else {
    await locator.fill(text);
  }
}
const field = (key) => page.locator(`[id="${key}"]`);
// Opens whatever an element lies in.
async function open(locator) {
  for (let depth = 0; depth < 6; depth++) {
    const closed = locator.locator("xpath=ancestor::details[not(@open)]").first();
    if ((await closed.count()) === 0) return;
    await press(closed.locator(":scope > summary"));
  }
}
async function answer(begins) {
  await page.waitForFunction((begins) => document.getElementById("answer").textContent.startsWith(begins), begins, { timeout: 20000 });
}
async function audit(name) {
  const other = await context.newPage();
  await other.goto(page.url());
  await other.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
  for (const colorScheme of ["light", "dark"]) {
    await other.emulateMedia({ colorScheme });
    const found = await other.evaluate(`${axe}; axe.run()`);
    for (const one of found.violations) wrong.push(`${name}, ${colorScheme}: ${one.id}: ${one.nodes[0].html.slice(0, 120)}`);
  }
  if (await other.evaluate(() => document.documentElement.scrollWidth > innerWidth)) wrong.push(`${name}: wider than the screen`);
  await other.close();
}

try {
  await page.goto(address);
  await audit("the house");
  await type(field("house"), "Heron Row");
  await press(page.getByRole("button", { name: "Take over" }));
  await press(page.getByRole("link", { name: /sash-1/ }));
  let fields = 0;
  for (const line of lines) {
    const [key, text] = line.split("=").map((part) => part.trim());
    if (key === "add") {
      const button = page.getByRole("button", { name: `Add to ${text}`, exact: true, includeHidden: true });
      await open(button);
      await Promise.all([page.waitForNavigation(), press(button)]);
      continue;
    }
    await open(field(key));
    await type(field(key), text);
    fields += 1;
  }
  // The unit that was asked for is too thick for this wood.
  await answer("NO");
  await audit("a no");
  const unit = page.locator('#units input[value="4-6-4"]');
  await open(unit);
  if (way === "keyboard") {
    // Of a group of radio buttons the tabulator reaches the one that is chosen, and arrows choose another.
    await reach(page.locator("#units input:checked"));
    for (let up = 0; up < 40 && !(await unit.isChecked()); up++) {
      await page.keyboard.press("ArrowUp");
      await page.waitForTimeout(200);
      strokes += 1;
    }
  } else {
    await press(unit);
  }
  await answer("YES");
  await audit("a yes");
  const shown = await page.evaluate(async () => {
    const times = [];
    const one = document.getElementById("sash[1].thickness");
    const whole = one.value;
    for (let round = 0; round < 10; round++) {
      one.value = round % 2 ? whole : String(Number(whole) + 1);
      const before = document.body.dataset.version;
      const begun = performance.now();
      one.dispatchEvent(new Event("input", { bubbles: true }));
      while (document.body.dataset.version === before) await new Promise((next) => setTimeout(next, 1));
      await new Promise(requestAnimationFrame);
      times.push(performance.now() - begun);
    }
    return times.sort((a, b) => a - b)[5];
  });
  await press(page.getByRole("button", { name: /^Save/ }));
  await page.waitForFunction(() => document.getElementById("state").textContent.includes("holds everything"));
  // The field in hand lies on the picture, and a bar moves by keys and by dragging.
  if (!phone) {
    const bar = page.locator(".bar").first();
    await reach(bar);
    await bar.focus();
    const centre = field("sash[1].bars[1].centre");
    const at = Number(await centre.inputValue());
    await page.keyboard.press("ArrowRight");
    await page.waitForFunction((at) => document.activeElement.getAttribute("aria-valuenow") === String(at + 1), at);
    await page.keyboard.press("ArrowLeft");
    await page.waitForFunction((at) => document.activeElement.getAttribute("aria-valuenow") === String(at), at);
    // Until the last answer is there.
    await page.waitForTimeout(1500);
    if (way === "pointer") {
      // An answer that comes meanwhile puts another bar in its place.
      const middle = async () => {
        for (;;) {
          const box = await page.locator(".bar").first().boundingBox();
          if (box) return [box.x + box.width / 2, box.y + box.height / 2];
        }
      };
      for (const to of [40, -40]) {
        const from = Number(await centre.inputValue());
        const [x, y] = await middle();
        await page.mouse.move(x, y);
        await page.mouse.down();
        await page.mouse.move(x + to, y, { steps: 4 });
        await page.mouse.up();
        await page.waitForFunction((from) => Number(document.getElementById("sash[1].bars[1].centre").value) !== from, from);
        if (Math.sign(Number(await centre.inputValue()) - from) !== Math.sign(to)) wrong.push(`dragged from ${x} by ${to}: ${await centre.inputValue()}`);
      }
      await centre.fill(String(at));
    }
    await open(field("sash[1].sight.width"));
    await field("sash[1].sight.width").focus();
    const told = await page.locator(".rule.held text").allTextContents();
    if (told.length !== 1 || told[0] !== "900") wrong.push(`the rule says ${told}`);
    await answer("YES");
    await press(page.getByRole("button", { name: /^Save/ }));
    await page.waitForFunction(() => document.getElementById("state").textContent.includes("holds everything"));
  }
  // The cut is run through in time.
  const sash = page.url();
  await page.goto(`${sash}/cut`);
  await audit("the cut");
  const time = page.locator("#time");
  const end = await time.inputValue();
  const deepest = await page.locator("#figures").textContent();
  if (!/Least so far\d+\.\d mm/.test(deepest)) wrong.push(`at the end of the cut: ${deepest}`);
  await time.focus();
  await page.keyboard.press("Home");
  if ((await page.locator("#moves .later").count()) === 0) wrong.push("before the first move everything is cut");
  await page.keyboard.press("End");
  if ((await time.inputValue()) !== end || (await page.locator("#moves .later").count()) !== 0) wrong.push("at the end something is not cut");
  if (!(await time.getAttribute("aria-valuetext")).includes("below")) wrong.push("the time has no words");
  await page.goto(sash);
  const away = page.getByRole("link", { name: "Make every sheet, drawing and program", includeHidden: true });
  await open(away);
  await press(away);
  await page.waitForURL("**/away");
  await audit("what is taken away");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    press(page.getByRole("link", { name: "The whole folder in one file" })),
  ]);
  await download.saveAs(path.join(folder, "taken.zip"));
  console.log(`${way}: ${fields} fields, ${strokes} strokes, ${shown.toFixed(0)} ms from a key to the picture (median of 10)`);
} catch (error) {
  wrong.push(String(error));
}
await browser.close();
for (const one of wrong) console.error(one);
process.exit(wrong.length === 0 ? 0 : 1);

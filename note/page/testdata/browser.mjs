// Checks pages for accessibility in headless Chromium with axe-core, and the
// local page's behaviour with real files.
//
// usage: node browser.mjs FOLDER OLD.stl NEW.stl SERVE-URL NOTE.html...
// FOLDER is one in which `npm install playwright-core axe-core` was run.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { resolve } from "node:path";
import { readFileSync } from "node:fs";

const [modules, oldFile, newFile, serveURL, ...notes] = process.argv.slice(2);
const require = createRequire(resolve(modules, "package.json"));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
let failed = 0;
const fail = (text) => { failed++; console.log("FAILED " + text); };

async function violations(page, name) {
  const results = await page.evaluate(async (source) => {
    new Function(source)();
    return window.axe.run(document, { resultTypes: ["violations"] });
  }, axe);
  for (const v of results.violations) {
    fail(`${name}: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.html).join(" | ")}`);
  }
  console.log(`${name}: ${results.violations.length} violations, ${results.passes.length} rules passed`);
}

for (const scheme of ["light", "dark"]) {
  for (const [width, height] of [[1000, 800], [360, 640]]) {
    // The script of axe is put in past the page's own policy.
    const context = await browser.newContext({ colorScheme: scheme, viewport: { width, height }, bypassCSP: true });
    const page = await context.newPage();
    for (const note of notes) {
      await page.goto(pathToFileURL(resolve(note)).href);
      await violations(page, `${note} ${scheme} ${width}`);
    }
    await page.goto(serveURL);
    await violations(page, `form ${scheme} ${width}`);
    await page.setInputFiles("#old", oldFile);
    await page.setInputFiles("#new", newFile);
    await page.click("button[type=submit]");
    await page.waitForSelector("#result", { timeout: 60000 });
    await violations(page, `answer ${scheme} ${width}`);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (wide > 0) fail(`answer ${scheme} ${width}: the page is ${wide} pixels wider than the screen`);
    await page.click("button.second");
    await page.waitForFunction(() => document.querySelector("#result h1")?.textContent.startsWith("Thickness"), null, { timeout: 60000 });
    await violations(page, `thicknesses ${scheme} ${width}`);
    await page.setInputFiles("#new", notes[0]); // no mesh
    await page.click("button[type=submit]:not(.second)");
    await page.waitForSelector("#error");
    await violations(page, `error ${scheme} ${width}`);
    await context.close();
  }
}

// Printed, a note fits between the margins of both papers. Text widths in CSS
// pixels: the paper less 14 mm a side.
for (const [paper, width] of [["A4", 687], ["Letter", 710]]) {
  const context = await browser.newContext({ viewport: { width, height: 900 } });
  const page = await context.newPage();
  await page.emulateMedia({ media: "print" });
  for (const note of notes) {
    await page.goto(pathToFileURL(resolve(note)).href);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (wide > 0) fail(`${note} on ${paper}: ${wide} pixels too wide`);
    const pdf = await page.pdf({ format: paper, path: process.env.KEEP && `${process.env.KEEP}/${paper}.pdf` });
    console.log(`${note} on ${paper}: ${pdf.length} bytes`);
  }
  await context.close();
}

// With the page's own policy in force: the script runs, nothing is asked for
// elsewhere and nothing is refused by the policy.
{
  const context = await browser.newContext();
  const page = await context.newPage();
  page.on("console", (m) => { if (m.type() === "error") fail("console: " + m.text()); });
  page.on("request", (r) => { if (!r.url().startsWith(serveURL) && !r.url().startsWith("data:")) fail("asked for " + r.url()); });
  await page.goto(serveURL);
  await page.setInputFiles("#old", oldFile);
  await page.setInputFiles("#new", newFile);
  await page.fill("#load", "20N");
  await page.click("button[type=submit]");
  await page.waitForSelector("#result", { timeout: 60000 });
  if (!page.url().endsWith("/")) fail("the script did not answer in place: " + page.url());
  const first = await page.textContent("#result .lead.first");
  if (!/^Verdict: (swap|keep|check first)$/.test(first)) fail("the answer begins with " + first);
  for (const link of await page.$$("#result nav a")) {
    const [download] = await Promise.all([page.waitForEvent("download"), link.click()]);
    const bytes = readFileSync(await download.path());
    console.log(`saved ${download.suggestedFilename()}: ${bytes.length} bytes`);
    if (bytes.length < 500) fail("short download " + download.suggestedFilename());
  }
  // The other button asks for thicknesses, with the keys alone.
  await page.focus("#load");
  for (let i = 0; i < 20 && (await page.evaluate(() => document.activeElement.textContent.trim())) !== "Vary thickness and material"; i++) {
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.querySelector("#result h1")?.textContent.startsWith("Thickness"), null, { timeout: 60000 });
  if (!(await page.evaluate(() => document.activeElement.id === "result"))) fail("the answer does not get the focus");
  // Two files dropped anywhere fill both fields.
  await page.reload();
  await page.evaluate(() => {
    const d = new DataTransfer();
    d.items.add(new File(["solid a"], "a.stl"));
    d.items.add(new File(["solid b"], "b.stl"));
    document.querySelector("h1").dispatchEvent(new DragEvent("drop", { dataTransfer: d, bubbles: true, cancelable: true }));
  });
  const names = await page.evaluate(() => ["old", "new"].map((id) => document.getElementById(id).files[0]?.name));
  if (names.join() !== "a.stl,b.stl") fail("dropped files landed as " + names);
  // Without script the same form answers with a page of its own.
  const plain = await browser.newContext({ javaScriptEnabled: false });
  const still = await plain.newPage();
  await still.goto(serveURL);
  await still.setInputFiles("#old", oldFile);
  await still.setInputFiles("#new", newFile);
  await still.click("button[type=submit]");
  await still.waitForSelector("#result", { timeout: 60000 });
  if (!still.url().endsWith("/compare")) fail("without script: " + still.url());
}
await browser.close();
console.log(failed ? `${failed} failed` : "all passed");
process.exit(failed ? 1 : 0);

// Usage: node check.mjs FOLDER [PICTURES]
// Opens the pages of FOLDER in Chromium (CHROMIUM, default /usr/bin/chromium) and checks
// what a reader relies on. Prints one line per check; exits 1 when one fails.
import { chromium } from "playwright-core";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { join } from "node:path";

const [folder, pictures] = process.argv.slice(2);
const wanted = (process.env.PAGES || "small attention empty failures hostile large").split(" ");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const address = (name) => pathToFileURL(join(folder, name + ".html")).href;
let bad = 0;
function check(what, holds, detail = "") {
  if (!holds) bad++;
  console.log((holds ? "ok    " : "FAILED ") + what + (holds || detail === "" ? "" : ": " + JSON.stringify(detail).slice(0, 3000)));
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

// visit opens a page and watches for everything that must not happen.
async function visit(name, options, run) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  context.setDefaultTimeout(120_000); // a busy machine is slow, not wrong
  const page = await context.newPage();
  const events = [];
  page.on("request", (r) => { if (r.url().split("#")[0] !== address(name) && !r.url().startsWith("data:")) events.push("request " + r.url()); });
  page.on("console", (m) => { if (m.type() === "error" || m.type() === "warning") events.push("console " + m.text()); });
  page.on("pageerror", (e) => events.push("error " + e.message));
  page.on("dialog", (d) => { events.push("dialog " + d.message()); d.dismiss(); });
  page.on("popup", () => events.push("popup"));
  await page.goto(address(name));
  await run(page);
  check(`${name}: no request, console error or dialog`, events.length === 0, events);
  await context.close();
}
// until waits for a condition; the page's policy bars the library's own way, which evaluates text.
async function until(page, condition) {
  for (let i = 0; i < 600; i++) {
    if (await page.evaluate(condition)) return;
    await page.waitForTimeout(50);
  }
  check("came about: " + condition, false);
}
const audit = async (page, what) => {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
  check(`${what}: axe audit, ${found.passes.length} rules passed`, found.violations.length === 0, found.violations.map((v) => [v.id, v.nodes.length, v.nodes[0].html.slice(0, 200), v.nodes[0].failureSummary]));
};
const shot = async (page, name, full = true) => { if (pictures) await page.screenshot({ path: join(pictures, name + ".png"), fullPage: full }); };
const shown = (page, selector) => page.$$eval(selector, (es) => es.filter((e) => e.checkVisibility()).map((e) => e.dataset.verdict));
const only = (list, v) => list.length > 0 && list.every((x) => x === v);

for (const name of wanted) {
  const audited = name !== "large" && name !== "failures"; // more of the same; axe takes long on them
  await visit(name, {}, async (page) => {
    if (audited) await audit(page, name + ", light");
    await shot(page, name, audited);
  });
  if (name === "small" || name === "attention") {
    await visit(name, { colorScheme: "dark" }, async (page) => { await audit(page, name + ", dark"); await shot(page, name + "-dark"); });
  }
  await visit(name, { viewport: { width: 390, height: 844 } }, async (page) => {
    const wide = await page.evaluate(() => [document.documentElement.scrollWidth, [...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > 391 && !e.closest(".wide,pre,.f,.store,.vh,.us,.skip")).slice(0, 3).map((e) => e.outerHTML.slice(0, 150))]);
    check(name + ": fits a phone", wide[0] <= 390 && wide[1].length === 0, wide);
    if (name === "small" || name === "hostile") await audit(page, name + ", phone");
    await shot(page, name + "-phone", audited);
  });
}

await visit("small", {}, async (page) => {
  await page.check("#show-failed");
  check("filter: only failed claims", only(await shown(page, "[data-verdict]"), "failed"));
  check("filter: says how many", (await page.textContent("#found")) === "1 of 7 claims shown", await page.textContent("#found"));
  check("filter: says that claims are left out", await page.isVisible(".filtered"));
  await page.evaluate(() => { location.hash = "#claim-supply-inside"; });
  await until(page, () => document.getElementById("claim-supply-inside").checkVisibility() && document.getElementById("show-all").checked);
  check("deep link into what the filter hid shows it", await page.locator("#claim-supply-inside").isVisible());
  check("deep link: focus goes there", await page.evaluate(() => document.activeElement.id) === "claim-supply-inside");
  await page.fill("#search", "dropout burst");
  await until(page, () => document.body.classList.contains("searching"));
  check("search: all words", (await page.textContent("#found")) === "1 of 7 claims shown", await page.textContent("#found"));
  await page.fill("#search", "no such words anywhere");
  await until(page, () => document.getElementById("found").textContent.startsWith("0 of"));
  await page.fill("#search", "");
  await until(page, () => !document.body.classList.contains("searching"));
  check("search: emptied shows all", (await shown(page, '[id^="claim-"][data-verdict]')).length === 7);
  const before = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  await page.focus(".theme");
  await page.keyboard.press("Enter");
  const after = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  check("colours: the button darkens the page", before !== after && (await page.textContent(".theme")) === "Light page");
  await audit(page, "small, darkened by the button");
  const fractions = await page.$$eval(".fr", (es) => es.map((e) => e.firstElementChild.getBoundingClientRect().bottom <= e.lastElementChild.getBoundingClientRect().top + 1));
  check("formulas: fractions are one over the other", fractions.length > 0 && fractions.every(Boolean), fractions);
});

await visit("small", {}, async (page) => {
  await page.keyboard.press("Tab");
  check("keyboard: the skip link comes first and shows", await page.evaluate(() => document.activeElement.matches(".skip") && document.activeElement.getBoundingClientRect().left >= 0));
  await page.keyboard.press("Enter");
  check("keyboard: it skips", await page.evaluate(() => location.hash === "#attention" && Math.abs(document.getElementById("attention").getBoundingClientRect().top) < 80));
  await page.focus("#show-all");
  await page.keyboard.press("ArrowRight");
  check("keyboard: arrow keys choose a verdict", await page.isChecked("#show-failed"));
  await page.check("#show-all");
  await page.focus(".theme");
  const unseen = [];
  let stops = 0;
  for (; stops < 400; stops++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const e = document.activeElement;
      if (e === document.body) return null;
      const s = getComputedStyle(e), b = e.getBoundingClientRect();
      return { seen: s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 1.5 && b.width > 0 && b.top < innerHeight && b.bottom > 0, html: e.outerHTML.slice(0, 120) };
    });
    if (!at) break;
    if (!at.seen) unseen.push(at.html);
  }
  check(`keyboard: focus is seen at each of ${stops} stops`, stops > 60 && unseen.length === 0, unseen);
  await page.locator("details.typed summary").first().focus();
  await page.keyboard.press("Enter");
  check("keyboard: the lines as typed open", await page.locator("details.typed").first().evaluate((d) => d.open));
});

await visit("small", { javaScriptEnabled: false }, async (page) => {
  check("no script: no button, no search field", !(await page.isVisible("#search")) && (await page.locator(".theme").count()) === 0);
  await page.check("#show-open");
  const list = [];
  for (const e of await page.locator("[data-verdict]").all()) if (await e.isVisible()) list.push(await e.getAttribute("data-verdict"));
  check("no script: the filter works", only(list, "open"), list);
});

await visit("small", { reducedMotion: "reduce", forcedColors: "active" }, async (page) => { await audit(page, "small, forced colours"); await shot(page, "small-forced", false); });

await visit("small", {}, async (page) => {
  const pdf = await page.pdf({ preferCSSPageSize: true, ...(pictures ? { path: join(pictures, "small-print.pdf") } : {}) });
  check("print: gives a PDF", pdf.length > 20000, pdf.length);
  await page.emulateMedia({ media: "print" });
  check("print: no controls", !(await page.isVisible(".filter")) && !(await page.isVisible(".theme")));
  await page.evaluate(() => { document.querySelector("details.typed").open = true; });
  const folds = await page.$$eval("details", (es) => es.map((e) => e.checkVisibility()));
  check("print: what was folded is printed where it was opened, as on paper it is not", folds[0] !== undefined && folds.filter(Boolean).length === 1, folds);
  await page.check("#show-failed", { force: true }).catch(() => {});
});

await visit("many", {}, async (page) => {
  const t = await page.evaluate(() => { const a = performance.now(); document.getElementById("show-failed").click(); document.body.getBoundingClientRect(); return [performance.now() - a, performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd]; });
  check(`2,000 claims: all there; filter ${t[0].toFixed(0)} ms, parsed after ${t[1].toFixed(0)} ms`, (await page.locator('[id^="claim-"][data-verdict]').count()) === 2000 && only(await shown(page, '[id^="claim-"][data-verdict]'), "failed"));
});

await browser.close();
console.log(bad === 0 ? "all checks hold" : bad + " checks failed");
process.exit(bad === 0 ? 0 : 1);

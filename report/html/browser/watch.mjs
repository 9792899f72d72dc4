// Opens a watched page, opens a fold, scrolls, saves the notebook several times,
// and expects each save on the page with its place kept and what changed marked.
// Arguments: address of the page, the notebook, two texts that take turns in it.
import { chromium } from 'playwright-core'
import { readFileSync, writeFileSync } from 'node:fs'

const [address, note, one, two] = process.argv.slice(2)
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM, args: ['--no-sandbox'] })
const page = await browser.newPage({ viewport: { width: 1000, height: 700 } })
const faults = []
page.on('pageerror', e => faults.push(String(e)))
page.on('console', m => { if (m.type() === 'error') faults.push(m.text()) })
await page.goto(address)
const id = await page.evaluate(() => [...document.querySelectorAll('[id^="claim-"]')].filter(e => e.querySelector('details')).at(-1).id)
const fold = page.locator(`[id="${id}"] details`).first()
await fold.evaluate(e => { e.open = true; e.scrollIntoView() })
const top = () => fold.evaluate(e => e.getBoundingClientRect().top)
await page.waitForTimeout(300) // what is drawn late has moved
const before = await top()
const times = []
for (let i = 0; i < 5; i++) {
  await page.waitForTimeout(500) // a save shortly after a refresh is where one was lost
  const text = readFileSync(note, 'utf8')
  const to = text.includes(one) ? text.replace(one, two) : text.replace(two, one)
  await page.evaluate(() => { window.old = true })
  const from = Date.now()
  writeFileSync(note, to)
  await page.waitForFunction(() => !window.old && /Refreshed/.test(document.querySelector('.refreshed')?.textContent ?? ''), null, { timeout: 60000, polling: 10 })
  times.push(Date.now() - from)
  const said = await page.locator('.refreshed').textContent()
  if (!/failed|passed/.test(said)) faults.push('not told: ' + said)
  if (await page.locator('.changed').count() === 0) faults.push('nothing is marked')
  if (!await fold.evaluate(e => e.open)) faults.push('the fold was closed')
}
const moved = Math.abs(await top() - before)
if (moved > 100) faults.push(`moved by ${moved} px from ${before}`)
await browser.close()
console.log('ms from save to page:', times.join(' '))
if (faults.length) { console.log(faults.join('\n')); process.exit(1) }

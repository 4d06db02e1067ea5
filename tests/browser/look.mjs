// Opens an HTML file in headless Chromium and prints what was seen as JSON.
// node look.mjs FILE CHROMIUM: axe-core violations in light and dark, requests, overflow at 360 px and on letter paper, focus order.
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { readFileSync } from 'node:fs'
import { chromium } from 'playwright-core'

const [file, executablePath] = process.argv.slice(2)
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const seen = { violations: {}, requests: [], errors: [], overflow: null, printed: null, focus: [] }
for (const colorScheme of ['light', 'dark']) {
  const page = await (await browser.newContext({ colorScheme, bypassCSP: true })).newPage()
  page.on('request', (one) => { if (!/^(file|data):/.test(one.url())) seen.requests.push(one.url()) })
  page.on('pageerror', (error) => seen.errors.push(String(error)))
  await page.goto(pathToFileURL(file).href)
  await page.evaluate(() => document.querySelectorAll('details').forEach((one) => { one.open = true }))
  await page.evaluate(axe)
  const found = await page.evaluate(() => window.axe.run())
  seen.violations[colorScheme] = found.violations.map((one) => ({
    id: one.id, impact: one.impact, help: one.help, where: one.nodes.slice(0, 3).map((node) => node.target.join(' ')),
  }))
}
const narrow = await (await browser.newContext({ viewport: { width: 360, height: 740 } })).newPage()
await narrow.goto(pathToFileURL(file).href)
seen.overflow = await narrow.evaluate(() => document.documentElement.scrollWidth)
const paper = await (await browser.newContext({ viewport: { width: 703, height: 900 } })).newPage()
await paper.emulateMedia({ media: 'print' })
await paper.goto(pathToFileURL(file).href)
seen.printed = await paper.evaluate(() => document.documentElement.scrollWidth)
for (let step = 0; step < 12; step += 1) {
  await narrow.keyboard.press('Tab')
  seen.focus.push(await narrow.evaluate(() => document.activeElement.textContent.trim().slice(0, 40)))
}
await browser.close()
console.log(JSON.stringify(seen))

// Presses the filters of an audit page in headless Chromium with scripts off, and prints the projects then shown.
// node filters.mjs FILE CHROMIUM
import { pathToFileURL } from 'node:url'
import { chromium } from 'playwright-core'

const [file, executablePath] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const page = await (await browser.newContext({ javaScriptEnabled: false })).newPage()
await page.goto(pathToFileURL(file).href)
const rows = page.locator('section[aria-labelledby="projects"] tbody tr')
const shown = () => rows.evaluateAll((all) => all.filter((row) => row.getClientRects().length)
  .map((row) => row.querySelector('th').textContent.trim()))
const seen = { all: await shown(), filtered: {}, both: {}, again: null }
for (const group of await page.locator('fieldset').all()) {
  const title = (await group.locator('legend').innerText()).trim()
  const labels = await group.locator('label').all()
  for (const label of labels.slice(1, 8)) {
    await label.click()
    seen.filtered[`${title}: ${(await label.innerText()).trim()}`] = await shown()
  }
  await labels[0].click()
}
const choose = async (title) => {
  const label = page.locator('fieldset', { has: page.locator('legend', { hasText: title }) }).locator('label').nth(1)
  await label.click()
  return (await label.innerText()).trim()
}
seen.both.climate = await choose('Climate zone')
seen.both.use = await choose('Building use')
seen.both.shown = await shown()
await page.locator('button[type=reset]').click()
seen.again = await shown()
await browser.close()
console.log(JSON.stringify(seen))

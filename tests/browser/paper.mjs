// Presses through sections, comments and an issue in headless Chromium and prints what was seen as JSON.
// node paper.mjs CHROMIUM ADDRESS [live|plain]: with the script of the page, or without it.
import { chromium } from 'playwright-core'

const [executablePath, address, script] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, javaScriptEnabled: script !== 'plain', acceptDownloads: true })
const page = await context.newPage()
const seen = { console: [], hidden: false }
page.on('console', (line) => { if (/error|warning/.test(line.type())) seen.console.push(line.text()) })
page.on('pageerror', (error) => seen.console.push(String(error)))

// A number is pressed: what it comes from opens below its paragraph.
await page.goto(`${address}sections/07-71-00`)
const number = page.locator('a.from').first()
seen.number = await number.textContent()
const panel = page.locator((await number.getAttribute('href')).replace(/\./g, '\\.'))
seen.hidden = await panel.isVisible()
await number.click()
await page.waitForTimeout(300)
seen.shown = await panel.isVisible()
seen.panel = await panel.innerText()

// From there to a comment, its answer, and the list.
await panel.locator('a.comments').click()
await page.getByLabel('Comment', { exact: true }).fill('Is this meant?')
await page.locator('#name').fill('B. Builder')
await page.getByRole('button', { name: 'Add the comment' }).click()
await page.locator('.thread textarea').fill('It is.')
await page.getByLabel('Nothing is left to answer').check()
await page.getByRole('button', { name: 'Answer', exact: true }).click()
await page.locator('.thread blockquote.answer').waitFor()

// The issue in a folder, and as one archive.
await page.goto(`${address}sections`)
await page.getByLabel('Folder').fill('out')
await page.getByRole('button', { name: 'Write the issue' }).click()
const until = Date.now() + 120000
while (!/written,/.test(seen.issued = await page.locator('main').innerText()) && Date.now() < until) {
  await page.waitForTimeout(1000)
  await page.goto(`${address}issued/out`)
}
await page.goto(`${address}sections`)
const download = page.waitForEvent('download', { timeout: 120000 })
await page.getByRole('link', { name: 'Download the whole issue as one archive' }).click()
const waiting = page.waitForURL(/jobs\//, { timeout: 120000 }).then(() => null, () => null)
const first = await Promise.race([download, waiting])
if (first) seen.archive = first.suggestedFilename()
else {
  while (!(await page.getByRole('link', { name: 'See the result' }).count())) {
    await page.waitForTimeout(1000)
    await page.reload()
  }
  await page.getByRole('link', { name: 'See the result' }).click()
  seen.archive = (await download).suggestedFilename()
}

// On paper: pages with a number at their foot.
await page.goto(`${address}sections/07-71-00`)
await page.emulateMedia({ media: 'print' })
seen.frame = []
for (const part of ['.top', '.views', '.foot', '.above-doc', '.doc-head', 'details.origins']) {
  if (await page.locator(part).first().isVisible()) seen.frame.push(part)
}
seen.sheet = await page.locator('.is-section-title').isVisible()
const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
seen.pages = (pdf.match(/\/Type\s*\/Page\b/g) || []).length
seen.folio = await page.evaluate(() => [...document.styleSheets].some((sheet) => [...sheet.cssRules].some((rule) => /counter\(page\)/.test(rule.cssText))))
await browser.close()
console.log(JSON.stringify(seen))

// Starts a project as a person does who knows parapets, and prints what was seen as JSON. node start.mjs CHROMIUM ADDRESS [plain]
// With `plain` the script of the page is off.
import { chromium } from 'playwright-core'

const [executablePath, address, plain] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const seen = { console: [] }
const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 }, javaScriptEnabled: !plain })).newPage()
page.on('pageerror', (error) => seen.console.push(String(error)))
page.on('console', (line) => { if (line.type() === 'error' && !line.text().includes('422')) seen.console.push(line.text()) })
const idle = () => (plain ? null : page.waitForFunction(() => !document.querySelector('.htmx-request')))

await page.goto(address)
await page.getByRole('link', { name: 'Answer the facts' }).click()
await page.getByLabel('Name of the project').fill('Mill Yard')
await page.getByLabel('Number of the project').fill('0042')
await page.locator('#backup-wall').getByLabel('wood studs').check()
await page.locator('#roof-membrane').getByLabel('TPO').check()
await page.locator('#code').getByLabel('IBC 2021').check()
await page.locator('#climate-zone select').selectOption('4A')
await page.getByLabel('Mean roof height').fill('76 fet')
await page.keyboard.press('Tab')
await idle()
if (!plain) seen.wrong = await page.locator('#height-echo').innerText()
await page.getByRole('button', { name: 'Start without proposals' }).click()
seen.refused = await page.getByRole('alert').innerText()
seen.kept = [await page.getByLabel('Name of the project').inputValue(), await page.getByLabel('Mean roof height').inputValue(),
  await page.locator('#code').getByLabel('IBC 2021').isChecked(), await page.locator('#climate-zone select').inputValue()]
await page.getByRole('alert').getByRole('link').first().click()
if (!plain) await page.waitForFunction(() => document.activeElement.id, null, { timeout: 5000 }).catch(() => {})
seen.focus = await page.evaluate(() => document.activeElement.id).catch(() => '')
seen.still = await page.getByLabel('Mean roof height').inputValue()
await page.getByLabel('Mean roof height').fill('76 ft')
await page.keyboard.press('Tab')
await idle()
if (!plain) seen.echo = await page.locator('#height-echo').innerText()
await page.getByRole('button', { name: 'Start, and propose walls' }).click()
if (!plain) {
  await page.getByRole('button', { name: 'Stop the search' }).focus()
  await page.waitForTimeout(2500)
  seen.stopHeld = await page.evaluate(() => document.activeElement.textContent)
}
for (let tries = 0; tries < 200 && !(await page.locator('section.proposed').count()); tries += 1) {
  if (plain) await page.goto(`${address}start/proposals`)
  await page.waitForTimeout(1000)
}
seen.walls = await page.locator('section.proposed').count()
seen.drawn = await page.locator('section.proposed svg').count()
await page.getByRole('button', { name: 'Take wall 1' }).click()
await page.waitForURL(/wall\//)
seen.title = await page.title()
await page.goto(address)
seen.overview = await page.locator('main').innerText()
await page.getByRole('link', { name: 'Change the facts' }).click()
seen.facts = await page.locator('form.field').count()
await browser.close()
console.log(JSON.stringify(seen))

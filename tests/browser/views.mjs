// Opens views of the page in headless Chromium and prints what was seen of each as JSON.
// node views.mjs CHROMIUM ADDRESS FOLDER VIEW...: axe-core in light and dark, overflow from 360 px to 4K, what the policy refused, focus order.
// FOLDER is where a picture of each view in each width is put, or - for none.
import { createRequire } from 'node:module'
import { readFileSync } from 'node:fs'
import { chromium } from 'playwright-core'

const [executablePath, address, folder, ...views] = process.argv.slice(2)
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const seen = {}
const settled = async (page) => {
  await page.waitForLoadState('load')
  await page.waitForFunction(() => !document.querySelector('.htmx-request'), null, { timeout: 20000 }).catch(() => {})
}
for (const view of views) {
  const one = seen[view] = { status: 0, violations: {}, overflow: {}, console: [], elsewhere: [], focus: [], title: '' }
  const plain = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
  plain.on('console', (line) => { if (/error|warning/.test(line.type())) one.console.push(line.text()) })
  plain.on('pageerror', (error) => one.console.push(String(error)))
  plain.on('request', (request) => { if (!request.url().startsWith(address) && !request.url().startsWith('data:')) one.elsewhere.push(request.url()) })
  one.status = (await plain.goto(address + view)).status()
  await settled(plain)
  one.title = await plain.title()
  for (let step = 0; step < 14; step += 1) {
    await plain.keyboard.press('Tab')
    one.focus.push(await plain.evaluate(() => (document.activeElement.getAttribute('aria-label') || document.activeElement.textContent || document.activeElement.id).trim().slice(0, 40)))
  }
  await plain.close()
  for (const colorScheme of ['light', 'dark']) {
    const page = await (await browser.newContext({ colorScheme, bypassCSP: true, reducedMotion: 'reduce', viewport: { width: 1280, height: 900 } })).newPage()
    await page.goto(address + view)
    await settled(page)
    await page.evaluate(() => document.querySelectorAll('details').forEach((at) => { at.open = true }))
    await page.evaluate(axe)
    const found = await page.evaluate(() => window.axe.run())
    one.violations[colorScheme] = found.violations.map((each) => ({
      id: each.id, help: each.help, where: each.nodes.slice(0, 3).map((node) => `${node.target.join(' ')}: ${node.failureSummary.split('\n')[1]}`),
    }))
    if (folder !== '-') await page.screenshot({ path: `${folder}/${view.replace(/\W+/g, '-') || 'start'}-${colorScheme}.png`, fullPage: true })
    await page.close()
  }
  for (const width of (process.env.WIDTHS || "360,768,1440,3840").split(",").map(Number)) {
    const page = await (await browser.newContext({ viewport: { width, height: 900 } })).newPage()
    await page.goto(address + view)
    await settled(page)
    one.overflow[width] = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    if (folder !== '-') await page.screenshot({ path: `${folder}/${view.replace(/\W+/g, '-') || 'start'}-${width}.png`, fullPage: true })
    await page.close()
  }
}
await browser.close()
console.log(JSON.stringify(seen))

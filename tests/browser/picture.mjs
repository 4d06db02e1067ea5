// Opens a page with the picture of a wall in headless Chromium and prints what was seen as JSON.
// node picture.mjs FILE CHROMIUM: axe-core violations, overflow at 360 px, focus order, and how many square pixels press each part.
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { readFileSync } from 'node:fs'
import { chromium } from 'playwright-core'

const [file, executablePath] = process.argv.slice(2)
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const seen = { violations: {}, overflow: null, focus: [], pressed: {}, shown: {} }
for (const colorScheme of ['light', 'dark']) {
  const page = await (await browser.newContext({ colorScheme, bypassCSP: true })).newPage()
  await page.goto(pathToFileURL(file).href)
  await page.evaluate(axe)
  const found = await page.evaluate(() => window.axe.run())
  seen.violations[colorScheme] = found.violations.map((one) => ({ id: one.id, where: one.nodes[0].html.slice(0, 200) }))
}
const page = await (await browser.newContext({ viewport: { width: 360, height: 740 } })).newPage()
await page.goto(pathToFileURL(file).href)
seen.overflow = await page.evaluate(() => document.documentElement.scrollWidth)
const links = await page.locator('a.part').count()
for (let step = 0; step < links + 4; step += 1) {
  await page.keyboard.press('Tab')
  seen.focus.push(await page.evaluate(() => document.activeElement.dataset.part || document.activeElement.id))
}
await page.setViewportSize({ width: 640, height: 1400 })
await page.evaluate(() => window.scrollTo(0, 0))
seen.pressed = await page.evaluate(() => {
  const box = document.querySelector('svg.picture').getBoundingClientRect()
  const count = {}
  for (let x = Math.ceil(box.left); x < box.right; x += 1) {
    for (let y = Math.ceil(box.top); y < box.bottom; y += 2) {
      const link = document.elementFromPoint(x, y)?.closest('a.place')
      if (link) count[link.dataset.part] = (count[link.dataset.part] || 0) + 2
    }
  }
  return count
})
for (const layer of ['water', 'air', 'vapor', 'heat']) {
  const visible = () => page.evaluate((one) => [...document.querySelectorAll(`.way-${one}`)].filter((group) => getComputedStyle(group).display !== 'none').length, layer)
  const before = await visible()
  await page.locator(`#show-${layer}`).check()
  seen.shown[layer] = [before, await visible()]
  await page.locator(`#show-${layer}`).uncheck()
}
await browser.close()
console.log(JSON.stringify(seen))

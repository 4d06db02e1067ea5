// Measures in headless Chromium how long the page takes from a key to the findings, and prints milliseconds as JSON.
// node times.mjs CHROMIUM ADDRESS PARAPET PART KEY COUNT VALUE...: sets the field to one value after the other, COUNT times in all.
import { chromium } from 'playwright-core'

const [executablePath, address, parapet, part, key, count, ...values] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const page = await (await browser.newContext({ viewport: { width: 1400, height: 1000 } })).newPage()
const opened = performance.now()
await page.goto(`${address}wall/${encodeURIComponent(parapet)}?part=${encodeURIComponent(part)}`)
const first = performance.now() - opened
await page.waitForFunction(() => !document.querySelector('.htmx-request'))
const times = []
for (let turn = 0; turn < Number(count); turn += 1) {
  const form = page.locator('form.field', { has: page.locator(`input[name=key][value="${key}"]`) }).first()
  const input = form.locator('input[name=value]').first()
  await input.fill(values[turn % values.length])
  times.push(await input.evaluate((at) => new Promise((done, fail) => {
    let started = 0
    const watch = new MutationObserver(() => {
      const now = performance.now()
      watch.disconnect()
      requestAnimationFrame(() => setTimeout(() => done(Math.max(now, performance.now()) - started), 0))
    })
    watch.observe(document.getElementById('main'), { childList: true, subtree: true })
    setTimeout(() => fail(new Error('no answer')), 30000)
    started = performance.now()
    at.dispatchEvent(new Event('change', { bubbles: true }))
  })))
  await page.waitForFunction(() => !document.querySelector('.htmx-request'))
}
await browser.close()
console.log(JSON.stringify({ first, times }))

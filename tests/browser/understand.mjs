// Findings, calculations and long calculations in headless Chromium, by script and by keyboard; prints what was seen as JSON.
// node understand.mjs CHROMIUM ADDRESS
import { chromium } from 'playwright-core'

const [executablePath, address] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const seen = { console: [] }
const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
page.on('console', (line) => { if (/error|warning/.test(line.type())) seen.console.push(line.text()) })
page.on('pageerror', (error) => seen.console.push(String(error)))
const says = () => page.textContent('#says')

// A filter narrows the list in place, and its address can be kept.
await page.goto(address + 'findings')
const count = await page.locator('#list li').count()
await page.selectOption('#how', 'risk')
await page.waitForFunction((before) => document.querySelectorAll('#list li').length < before, count)
seen.filtered = [count, await page.locator('#list li').count(), new URL(page.url()).search]

// A finding tries its remedies by itself; one press applies the first, and the step is taken back beside what it changed.
await page.goto(address + 'findings')
await page.click('a:has-text("the coping has no drip on its outer side")')
await page.waitForSelector('.remedies button')
seen.remedies = await page.locator('.remedies > li').count()
await page.locator('.remedies button').first().press('Enter')
await page.waitForSelector('h1:has-text("What has changed")')
seen.applied = [await says(), await page.locator('.findings .mark').allTextContents()]
await page.click('button:has-text("Take the step back")')
await page.waitForSelector('h1:has-text("Findings")')
seen.back = await page.locator('#list li').count()

// A slider by keyboard: results follow, the field beside it too, focus stays, nothing is written.
await page.goto(address + 'calculations/P-1/coping%20wind')
const slider = page.locator('input[type=range][aria-label^="height above the finished roof"]')
const number = await slider.evaluate((at) => at.id.replace('slide-', ''))
const started = Date.now()
await slider.focus()
await page.keyboard.press('End')
await page.waitForSelector('#trial table')
seen.milliseconds = Date.now() - started
await page.waitForFunction((at) => document.getElementById(`try-${at}`).value !== '36', number)
seen.slid = [await page.inputValue(`#try-${number}`), await says(), await page.evaluate(() => document.activeElement.type)]
await page.fill(`#try-${number}`, '3 ft 2 in')
await page.waitForFunction((at) => document.getElementById(`slide-${at}`).value === '38', number)
seen.typed = [await page.inputValue(`#try-${number}`), await page.locator('#trial h3').textContent()]
await page.fill(`#try-${number}`, 'tall')
await page.waitForSelector('#trial .problem')
seen.wrong = await page.locator('#trial .problem').textContent()

// A long calculation is started, watched and there when it is done, without the view being loaded anew.
await page.goto(address + 'calculations/P-1/uncertainty')
await page.click('button:has-text("Run it for P-1")')
await page.waitForSelector('.job progress, .job a:has-text("See the result")')
await page.waitForSelector('.job a:has-text("See the result")', { timeout: 120000 })
await page.click('.job a:has-text("See the result")')
await page.waitForSelector('.sheet table')
seen.ran = [await page.locator('.sheet table').count(), await page.locator('figure img').count()]
await browser.close()
console.log(JSON.stringify(seen))

// Types into the wall as a quick person does, and prints what became of it as JSON. node typing.mjs CHROMIUM ADDRESS
import { chromium } from 'playwright-core'

const [executablePath, address] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const seen = { console: [] }
const open = async (options = {}) => {
  const page = await (await browser.newContext({ viewport: { width: 1400, height: 1000 }, ...options })).newPage()
  page.on('pageerror', (error) => seen.console.push(String(error)))
  page.on('console', (line) => { if (line.type() === 'error' && !line.text().includes('422')) seen.console.push(line.text()) })
  await page.goto(`${address}wall/P-1?part=coping`)
  return page
}
const idle = (page) => page.waitForFunction(() => !document.querySelector('.htmx-request'))
const field = (page, key) => page.locator('form.field', { has: page.locator(`input[name=key][value="${key}"]`) }).first()
const text = (page, key) => field(page, key).locator('input[name=value]').first()

// By keyboard alone: a value, Tab, and the next field is being typed in when the answer comes.
const page = await open()
await idle(page)
await text(page, 'slope').focus()
await page.keyboard.press('ControlOrMeta+a')
await page.keyboard.type('3/8 in/ft')
await page.keyboard.press('Tab')
seen.focusLeft = await page.evaluate(() => document.activeElement.id !== '')
const before = await page.evaluate(() => document.activeElement.id)
await idle(page)
await page.waitForFunction(() => document.getElementById('says').textContent.includes('slope'))
seen.focusKept = before === await page.evaluate(() => document.activeElement.id)
seen.says = await page.locator('#says').innerText()
seen.echo = await field(page, 'slope').locator('output').innerText()

// What is typed into another field while the answer is on the way stays there.
await text(page, 'slope').fill('1/8 in/ft')
await text(page, 'slope').dispatchEvent('change')
await text(page, 'outer_face_height').fill('7 in')
await idle(page)
seen.otherKept = await text(page, 'outer_face_height').inputValue()
await text(page, 'outer_face_height').dispatchEvent('change')
await idle(page)

// Who moves on between an answer and its place in the view stays where the typing goes on.
seen.movedOn = await page.evaluate(([first, second]) => {
  const tell = (name) => document.body.dispatchEvent(new CustomEvent(name, { bubbles: true, detail: { requestConfig: { elt: document.body }, xhr: { status: 200 } } }))
  document.getElementById(first).focus()
  tell('htmx:beforeSwap')
  document.getElementById(second).focus()
  tell('htmx:afterSettle')
  return document.activeElement.id === second
}, [await text(page, 'slope').getAttribute('id'), await text(page, 'outer_face_height').getAttribute('id')])

// The same field twice, the second time before the first answer has come.
await text(page, 'slope').fill('1/4 in/ft')
await text(page, 'slope').dispatchEvent('change')
await text(page, 'slope').fill('5/16 in/ft')
await text(page, 'slope').dispatchEvent('change')
await page.waitForTimeout(1500)
await idle(page)
seen.twice = await text(page, 'slope').inputValue()

// What cannot be used stays where it was typed, with the reason.
await text(page, 'slope').fill('steep')
await text(page, 'slope').dispatchEvent('change')
await idle(page)
seen.wrong = [await text(page, 'slope').inputValue(), await field(page, 'slope').locator('.problem').innerText()]
await text(page, 'slope').fill('5/16 in/ft')
await text(page, 'slope').dispatchEvent('change')
await idle(page)
seen.mended = await field(page, 'slope').locator('.problem').count()

// A step back by the keyboard, outside a text field.
await page.locator('h1').click()
await page.keyboard.press('ControlOrMeta+z')
await idle(page)
await page.waitForFunction(() => document.getElementById('says').textContent.includes('Taken back'))
seen.undone = await text(page, 'slope').inputValue()

// A part chosen in the picture by the keyboard opens its fields.
await page.locator('a.part[data-part="drainage layer"]').focus()
await page.keyboard.press('Enter')
await page.waitForURL(/part=drainage/)
seen.chosen = await page.locator('#fields h2').first().innerText()

// With the script off.
const plain = await open({ javaScriptEnabled: false })
await text(plain, 'slope').fill('1/2 in/ft')
await field(plain, 'slope').locator('button').click()
await plain.waitForLoadState()
seen.plain = [await text(plain, 'slope').inputValue(), await plain.locator('#says').innerText()]
await browser.close()
console.log(JSON.stringify(seen))

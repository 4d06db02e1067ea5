// A person who knows parapets and not this program: from an empty folder to a printed coping section and a reviewed data sheet.
// node story.mjs CHROMIUM ADDRESS DATA_SHEET FOLDER: pictures and the section go into FOLDER; what was seen is printed as JSON.
import { chromium } from 'playwright-core'

const [executablePath, address, sheet, folder] = process.argv.slice(2)
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync']
const browser = await chromium.launch({ executablePath, args: quiet })
const page = await (await browser.newContext({ viewport: { width: 1366, height: 900 }, acceptDownloads: true })).newPage()
page.setDefaultTimeout(60000)
const seen = { console: [], steps: [], clicks: 0 }
page.on('pageerror', (error) => seen.console.push(String(error)))
page.on('console', (line) => { if (line.type() === 'error') seen.console.push(line.text()) })
const began = Date.now()
const idle = () => page.waitForFunction(() => !document.querySelector('.htmx-request'))
const step = async (words) => {
  await page.waitForLoadState('load')
  await idle()
  seen.steps.push([words, Math.round((Date.now() - began) / 100) / 10, await page.title()])
  await page.screenshot({ path: `${folder}/story-${String(seen.steps.length).padStart(2, '0')}.png`, fullPage: true, caret: 'initial' })
}
const press = async (at) => { seen.clicks += 1; await at.click() }
const link = (name) => page.getByRole('link', { name }).first()
const button = (name) => page.getByRole('button', { name }).first()

// Start from facts.
await page.goto(address)
await step('The page is open')
await press(link('Answer the facts'))
await page.getByLabel('Name of the project').fill('Mill Row Dwellings')
await page.getByLabel('Number of the project').fill('2711')
await page.getByLabel('Issue date').fill('2026-12-01')
await page.getByLabel('Place of the building').fill('an inland town')
for (const [question, answer] of [['Backup wall', 'cold-formed steel studs'], ['Roof membrane', 'TPO'], ['Adopted building code and edition', 'IBC 2021'], ['Wind exposure category', 'C'], ['Roof-side face of the parapet', 'roof membrane'], ['New or standing parapet', 'new']]) {
  await press(page.getByRole('radiogroup', { name: question }).getByLabel(answer, { exact: true }))
}
await page.getByLabel('ASHRAE 169 climate zone').selectOption('4A')
await page.getByLabel('Height of the parapet above the finished roof').fill('42 in')
await page.getByLabel('Mean roof height').fill('38 ft')
await page.getByLabel('Basic wind speed for the building').fill('115 mph')
await page.keyboard.press('Tab')
await step('The facts are typed')
await press(button('Start, and propose walls'))
await page.waitForURL(/proposals|start.walls/)
await step('Walls are proposed')
await page.waitForSelector('button:has-text("Take ")', { timeout: 120000 })
await step('Walls stand side by side')
await press(button(/^Take /))
await step('A wall is taken')

// Describe and understand.
await press(link('Wall'))
await step('The wall')
await press(page.locator('.parts a', { hasText: /coping/i }).first())
await step('The coping is chosen')
await press(link('Findings'))
await step('The findings')

// Print.
await press(link('Sections'))
await step('The sections')
await press(link('Copings'))
await step('The section of the coping')
// On a very busy machine a press was once lost before it reached the page: a person presses again, and so it is counted.
const downloaded = async (timeout) => (await Promise.all([page.waitForEvent('download', { timeout }), press(link('Download the Word file'))]))[0]
const download = await downloaded(25000).catch(() => downloaded(60000))
await download.saveAs(`${folder}/coping.docx`)
seen.section = download.suggestedFilename()

// Decide.
await press(link('Submittals'))
await page.locator('input[type=file][name=files]').setInputFiles(sheet)
await press(button('Read the files'))
await page.waitForSelector('section.came')
await step('The data sheet is read')
await press(page.locator('section.came a').first())
await step('Values beside their places')
seen.values = await page.locator('main').innerText()
await press(link(/verdict/i))
await step('The verdict')
seen.verdict = await page.locator('main').innerText()
await browser.close()
seen.seconds = (Date.now() - began) / 1000
console.log(JSON.stringify(seen))

// Prints HTML files to PDF beside them in headless Chromium. node print.mjs CHROMIUM FILE...
import { pathToFileURL } from 'node:url'
import { chromium } from 'playwright-core'

const [executablePath, ...files] = process.argv.slice(2)
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu', '--no-first-run'] })
const page = await (await browser.newContext()).newPage()
for (const file of files) {
  await page.goto(pathToFileURL(file).href)
  await page.pdf({ path: file.replace(/\.html$/, '.pdf'), format: 'Letter', margin: { top: '40px', left: '48px', right: '48px', bottom: '40px' } })
}
await browser.close()

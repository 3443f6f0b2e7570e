import { mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { type Started, start } from './testing/bundle.ts'

/** Oracle: a real browser, and what it says of the page that asks. */

needsTool('chromium', 'the pages of a job in Chromium', (executablePath) => {
  let folder = ''
  let serving: Started
  let browser: Browser
  let address = ''

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'trueloop-page-'))
    serving = start(folder, ['demo', '--port', '0'])
    address = await addressOf(serving)
    browser = await chromium.launch({ executablePath, args })
  }, 120_000)

  afterAll(async () => {
    await browser?.close()
    serving.child.kill('SIGINT')
    const { code } = await serving.ended
    rmSync(folder, { recursive: true, force: true })
    expect(code).toBe(130)
  })

  it('lead from the list of jobs to the job and its report, without a complaint of the browser', async () => {
    const page = await browser.newPage()
    const complaints: string[] = []
    page.on('console', (message) => void (message.type() === 'error' && complaints.push(message.text())))
    page.on('pageerror', (error) => void complaints.push(error.message))
    page.on('requestfailed', (request) => void complaints.push(request.url()))
    await page.goto(address)
    await page.getByRole('link', { name: /DEMO-1/ }).click()
    expect(await page.locator('h1').textContent()).toBe('DEMO-1')
    expect(await page.getByText('never to be signed off').count()).toBeGreaterThan(0)
    expect(await page.locator('.places li').count()).toBe(10)
    const missing = await page.getByText('Not examined', { exact: false }).first().boundingBox()
    const places = await page.locator('.places').boundingBox()
    expect(missing?.y ?? 0).toBeLessThan(places?.y ?? 0)
    await page.getByRole('link', { name: 'Report' }).click()
    expect(await page.locator('h1').textContent()).toContain('DEMO-1')
    expect(await page.locator('svg, img').count()).toBeGreaterThan(0)
    expect(complaints).toEqual([])
    await page.close()
  })

  it('fit a narrow screen, and large enough to touch', async () => {
    const page = await browser.newPage({ viewport: { width: 360, height: 800 } })
    await page.goto(`${address}jobs/DEMO-1`)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360)
    for (const link of await page.getByRole('link').all())
      expect((await link.boundingBox())?.height ?? 0).toBeGreaterThanOrEqual(44)
    await page.close()
  })

  it('give the record to programs, and not to a page of another site', async () => {
    const page = await browser.newPage()
    const typed = await page.goto(`${address}api/jobs`)
    expect([typed?.status(), await typed?.json()]).toMatchObject([200, [{ job: 'DEMO-1' }]])
    expect((await page.goto(`${address}api/openapi.json`))?.status()).toBe(200)
    const link = `<a href="${address}api/jobs">to the record</a>`
    const other = createServer((_, answer) => answer.setHeader('content-type', 'text/html').end(link))
    await new Promise<void>((resolve) => void other.listen(0, '127.0.0.1', resolve))
    await page.goto(`http://127.0.0.1:${(other.address() as AddressInfo).port}/`)
    const [asked] = await Promise.all([
      page.waitForResponse((answer) => answer.url().startsWith(address)),
      page.getByRole('link').click()
    ])
    expect(asked.status()).toBe(403)
    await page.close()
    other.close()
  })

  it('answer with a page of their own where there is nothing', async () => {
    const page = await browser.newPage()
    const answer = await page.goto(`${address}jobs/none`)
    expect(answer?.status()).toBe(404)
    expect(await page.getByRole('link', { name: 'All jobs' }).count()).toBe(1)
    await page.close()
  })
})

const args = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking']

function addressOf({ child, ended }: Started): Promise<string> {
  return new Promise((resolve, reject) => {
    let out = ''
    child.stdout?.on('data', (text) => {
      out += text
      const [, found] = /(http:\/\/127\.0\.0\.1:\d+\/)/.exec(out) ?? []
      if (found !== undefined) resolve(found)
    })
    void ended.then(({ err }) => reject(new Error(`ended before it served: ${err}`)))
  })
}

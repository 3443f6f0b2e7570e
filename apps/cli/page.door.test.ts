import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { launch, openPage, smallTargets, violations } from './testing/browser.ts'
import { servedDemonstration } from './testing/demonstration.ts'
import { signIn } from './testing/signing-in.ts'

/** Oracles: a real browser, and what it says of the page that asks; axe, for WCAG 2.2 AA and a contrast of 7:1. */

const paths = [
  ...['', 'jobs/DEMO-1', 'jobs/DEMO-1/hole/P02', 'jobs/DEMO-1/hole/P05', 'jobs/DEMO-1/scan'],
  ...['jobs/DEMO-2', `jobs/DEMO-2/track/${encodeURIComponent('upper toe, right')}`, 'jobs/DEMO-2/scan']
]

needsTool('chromium', 'the workbench in Chromium', (executablePath) => {
  const served = servedDemonstration()
  let browser: Browser
  let address = ''

  beforeAll(async () => {
    address = served.address
    browser = await launch(executablePath)
  })

  afterAll(() => browser?.close())

  it('leads from the list of jobs to a hole and to the report, without a complaint of the browser', async () => {
    const { page, complaints } = await openPage(browser)
    await page.goto(address)
    await page.getByRole('link', { name: /DEMO-1/ }).click()
    await page.getByRole('heading', { level: 1, name: 'DEMO-1' }).waitFor()
    expect(await page.getByText('never to be signed off').count()).toBeGreaterThan(0)
    expect(await page.locator('.queue li').count()).toBe(10)
    await page.getByRole('button', { name: /not examined/ }).click()
    expect(await page.locator('.queue li').count()).toBe(2)
    await page.getByRole('link', { name: /P05/ }).first().click()
    await page.getByRole('heading', { level: 1, name: 'hole P05' }).waitFor()
    await page.getByText('Nothing of this place counts as examined').waitFor()
    await page.goto(`${address}jobs/DEMO-1`)
    await page.getByRole('link', { name: 'Report' }).click()
    expect(await page.locator('h1').textContent()).toContain('DEMO-1')
    expect(await page.locator('svg, img').count()).toBeGreaterThan(0)
    expect(complaints).toEqual([])
    await page.context().close()
  })

  it('finds by itself what the record holds, from the recording', async () => {
    const { page, complaints } = await openPage(browser)
    for (const hole of ['P02', 'P05', 'P09']) {
      await page.goto(`${address}jobs/DEMO-1/hole/${hole}`)
      await page.getByRole('button', { name: 'recorded', exact: true }).click()
      await page.getByText('examined once more in this page: the same findings').waitFor()
    }
    expect(complaints).toEqual([])
    await page.context().close()
  })

  it('writes figures as a person chooses, everywhere at once, and remembers it', async () => {
    const { page } = await openPage(browser)
    await page.goto(`${address}jobs/DEMO-1/hole/P02`)
    await page.getByText('Ø 4.80 mm').waitFor()
    await page.getByRole('button', { name: /^mm inch/ }).click()
    await page.getByText('Ø 0.189 in').waitFor()
    await page.locator('.evidence').waitFor()
    const texts = await page.locator('.evidence, .readout, .indications').allTextContents()
    expect(texts.join(' ')).toMatch(/\d in\b/)
    expect(texts.join(' ')).not.toMatch(/\d mm\b/)
    await page.getByRole('button', { name: /^share dB/ }).click()
    expect(await page.locator('.indications').textContent()).toContain(' dB')
    await page.reload()
    await page.getByText('Ø 0.189 in').waitFor()
    await page.context().close()
  })

  describe.each([
    ['light', 1440, 900],
    ['light', 1024, 768],
    ['light', 2560, 1440],
    ['light', 834, 1194],
    ['dark', 1440, 900],
    ['dark', 834, 1194]
  ] as const)('in the %s theme at %i × %i', (colorScheme, width, height) => {
    it('keeps to WCAG 2.2 AA, to 7:1 and to targets of 44 px, and runs over no edge', async () => {
      const { page } = await openPage(browser, { colorScheme, viewport: { width, height }, bypassCSP: true })
      await page.goto(address)
      await signIn(page)
      for (const path of paths) {
        await page.goto(address + path)
        await page.locator('h1, .scan-place').first().waitFor()
        await page.waitForLoadState('networkidle').catch(() => undefined)
        expect({ path, found: await violations(page) }).toEqual({ path, found: [] })
        expect({ path, found: await smallTargets(page) }).toEqual({ path, found: [] })
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width)
      }
      await page.context().close()
    })
  })

  it('gives the record to programs, and not to a page of another site', async () => {
    const page = await browser.newPage()
    const typed = await page.goto(`${address}api/jobs`)
    expect([typed?.status(), await typed?.json()]).toMatchObject([200, [{ job: 'DEMO-1' }, { job: 'DEMO-2' }]])
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

  it('says in three parts where there is nothing', async () => {
    const { page } = await openPage(browser)
    await page.goto(`${address}jobs/none`)
    await page.getByText('no job none').waitFor()
    expect(await page.locator('.refusal dt').allTextContents()).toEqual(['Found', 'Needed', 'What to do'])
    await page.goto(`${address}jobs/DEMO-1/hole/P99`)
    await page.getByText('no hole P99 in job DEMO-1').waitFor()
    await page.context().close()
  })
})

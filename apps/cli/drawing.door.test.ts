import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { launch, openPage, smallTargets, violations } from './testing/browser.ts'
import { servedDemonstration } from './testing/demonstration.ts'
import { signIn } from './testing/signing-in.ts'

/** Oracles: the record as the interface for programs tells it; a photo and a PDF that the browser makes; what it shows. */

interface Drawn {
  readonly file: string
  readonly form: string
  readonly places: readonly { readonly name: string; readonly x: number; readonly y: number; readonly page: number }[]
}

needsTool('chromium', 'drawings in Chromium', (executablePath) => {
  const served = servedDemonstration()
  let browser: Browser
  let page: Page
  let complaints: readonly string[]
  beforeAll(async () => {
    browser = await launch(executablePath)
    ;({ page, complaints } = await openPage(browser, { bypassCSP: false }))
  })
  afterAll(() => browser?.close())

  const drawings = async (): Promise<readonly Drawn[]> =>
    ((await (await fetch(`${served.address}api/jobs/DEMO-1`)).json()) as { drawings: readonly Drawn[] }).drawings
  const drawing = async (file: string) => (await drawings()).find((one) => one.file === file)
  const bring = (name: string, mimeType: string, buffer: Buffer) =>
    page.getByLabel('drawing or photo').setInputFiles({ name, mimeType, buffer })

  it('of the demonstration has every hole where its sheet says, and leads to it', async () => {
    await page.goto(`${served.address}jobs/DEMO-1`)
    await page.locator('.picture img').waitFor()
    expect(await page.locator('.picture .spot').count()).toBe(10)
    const box = await page.locator('.picture').boundingBox()
    const mark = await page.locator('.picture').getByRole('link', { name: /^P02/ }).boundingBox()
    const { x = 0, y = 0 } = (await drawing('panel.svg'))?.places.find(({ name }) => name === 'P02') ?? {}
    const center = [(mark?.x ?? 0) + (mark?.width ?? 0) / 2, (mark?.y ?? 0) + (mark?.height ?? 0) / 2]
    expect(center[0]).toBeCloseTo((box?.x ?? 0) + x * (box?.width ?? 0), 0)
    expect(center[1]).toBeCloseTo((box?.y ?? 0) + y * (box?.height ?? 0), 0)
    await page.locator('.picture').getByRole('link', { name: /^P02/ }).click()
    await page.getByRole('heading', { level: 1, name: 'hole P02' }).waitFor()
    await page.goto(`${served.address}jobs/DEMO-1`)
    await signIn(page)
  }, 60_000)

  it('is brought as a photo, and holes are put on it with the mouse and with keys, as one entry', async () => {
    await bring('frame.png', 'image/png', await page.screenshot({ clip: { x: 0, y: 0, width: 400, height: 200 } }))
    await expect.poll(() => page.locator('.picture img').getAttribute('alt')).toBe('frame.png')
    await page.getByRole('button', { name: 'Put places' }).click()
    const target = page.locator('.target')
    const box = await target.boundingBox()
    await target.click({ position: { x: 0.25 * (box?.width ?? 0), y: 0.5 * (box?.height ?? 0) } })
    await target.focus()
    for (const _ of [1, 2, 3]) await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Record 2 places' }).click()
    await expect.poll(async () => (await drawing('frame.png'))?.places.length).toBe(2)
    const [one, two] = (await drawing('frame.png'))?.places ?? []
    expect(one).toMatchObject({ name: 'P01', page: 1 })
    expect([one?.x, one?.y]).toEqual([expect.closeTo(0.25, 2), expect.closeTo(0.5, 2)])
    // the cross lies where the mouse has been, three steps of 2 % to the right
    expect(two?.name).toBe('P02')
    expect((two?.x ?? 0) - (one?.x ?? 0)).toBeCloseTo(0.06, 2)
    const { places } = (await drawing('frame.png')) as Drawn
    expect(places).toHaveLength(2)
  }, 60_000)

  it('is a page of a PDF, drawn by this page, with the places of that page', async () => {
    const paper = await browser.newPage()
    await paper.setContent('<div style="break-after:page">one</div><div>two</div>')
    await bring('sheets.pdf', 'application/pdf', await paper.pdf())
    await paper.close()
    await page.locator('.picture canvas').waitFor()
    await page.getByText('1 of 2').waitFor()
    await page.getByRole('button', { name: 'next page' }).click()
    await page.getByText('2 of 2').waitFor()
    const ink = () =>
      page.locator('.picture canvas').evaluate((one) => {
        const { width, height } = one as HTMLCanvasElement
        const pixels = (one as HTMLCanvasElement).getContext('2d')?.getImageData(0, 0, width, height).data ?? []
        return pixels.some((value, k) => k % 4 === 0 && value < 100)
      })
    await expect.poll(ink).toBe(true)
    await page.getByRole('button', { name: 'Put places' }).click()
    await page.locator('.target').click({ position: { x: 40, y: 40 } })
    await page.getByRole('button', { name: 'Record 1 place' }).click()
    await expect.poll(async () => (await drawing('sheets.pdf'))?.places).toMatchObject([{ name: 'P01', page: 2 }])
    await page.getByRole('button', { name: 'page before' }).click()
    await expect.poll(() => page.locator('.picture .spot').count()).toBe(0)
  }, 60_000)

  it('of SVG runs nothing that is in it, shown here or opened by itself', async () => {
    const evil = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"><script>parent.touched = document.title = 'ran'</script><image href="${served.address}api/jobs" width="1" height="1"/></svg>`
    await bring('evil.svg', 'image/svg+xml', Buffer.from(evil))
    await expect.poll(() => page.locator('.picture img').getAttribute('alt')).toBe('evil.svg')
    const alone = await browser.newPage()
    const source = await page.locator('.picture img').getAttribute('src')
    await alone.goto(new URL(source ?? '', served.address).href)
    expect(await alone.title()).not.toBe('ran')
    expect(await page.evaluate(() => 'touched' in window)).toBe(false)
    await alone.close()
  }, 60_000)

  it('is refused in three parts where it is none, and taken back by who has brought it', async () => {
    await bring('list.csv', 'text/csv', Buffer.from('time_s,x_V\n'))
    await page.getByText('list.csv: bytes that begin as none of these do').waitFor()
    await page.getByLabel('Map', { exact: true }).selectOption({ label: 'frame.png' })
    await page.getByRole('button', { name: 'Take the drawing back' }).click()
    await page.getByLabel('reason').fill('of another frame')
    await page.getByRole('button', { name: 'Take the drawing back' }).click()
    await expect.poll(async () => drawing('frame.png')).toBeUndefined()
    // the refused one is told by the browser's console too
    expect(complaints.filter((one) => !one.includes('422'))).toEqual([])
  }, 60_000)

  it.each([
    ['light', 1440, 900],
    ['dark', 834, 1194]
  ] as const)(
    'keeps to WCAG 2.2 AA while places are put, in the %s theme at %i × %i',
    async (colorScheme, width, height) => {
      const options = { colorScheme, viewport: { width, height }, bypassCSP: true } as const
      const { page: own } = await openPage(browser, options)
      await own.goto(`${served.address}jobs/DEMO-1`)
      await signIn(own)
      await own.getByRole('button', { name: 'Put places' }).click()
      await own.locator('.target').waitFor()
      expect({ violations: await violations(own), small: await smallTargets(own) }).toEqual({
        violations: [],
        small: []
      })
      expect(await own.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width)
      await own.context().close()
    },
    60_000
  )

  describe('a recording that lies on this computer', () => {
    it('is examined for the place that is chosen, and told as if it had come into the folder', async () => {
      await page.goto(`${served.address}jobs/DEMO-1/scan`)
      await page.getByRole('button', { name: 'Next: hole P05' }).click()
      await page.getByRole('button', { name: 'Recording of hole P05 from a file' }).waitFor()
      await page
        .getByLabel('recording', { exact: true })
        .setInputFiles(join(served.folder, 'spare-1/hole-P05-again.wav'))
      await page.locator('.scan-word', { hasText: 'complete' }).waitFor()
      expect(await page.locator('.scan-place').textContent()).toBe('hole P05')
    }, 60_000)
  })
})

import { copyFileSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { launch, openPage } from './testing/browser.ts'
import { servedDemonstration } from './testing/demonstration.ts'
import { finger, type Hand, keys, mouse } from './testing/hands.ts'
import { signIn } from './testing/signing-in.ts'

/** Oracle: the record itself, as the interface for programs tells it; actions are counted as a person would. */

interface Row {
  readonly name: string
  readonly state: string
  readonly open: readonly string[]
}

needsTool('chromium', 'deciding in Chromium', (executablePath) => {
  let browser: Browser
  beforeAll(async () => {
    browser = await launch(executablePath)
  })
  afterAll(() => browser?.close())

  describe.each([
    { name: 'mouse', hand: mouse, options: {} },
    { name: 'keys alone', hand: keys, options: {} },
    { name: 'touch', hand: finger, options: { hasTouch: true, viewport: { width: 1180, height: 820 } } }
  ])('with $name', ({ hand: handOf, options }) => {
    const served = servedDemonstration()

    it('a person decides every place of the demonstration that waits, and the record has it', async () => {
      const { address } = served
      const { page, complaints } = await openPage(browser, options)
      const hand = handOf(page)
      const waiting = (await rows(address)).filter(({ open }) => open.length > 0)
      expect(waiting.length).toBeGreaterThan(3)
      await page.goto(`${address}jobs/DEMO-1`)
      await page.locator('.queue li').first().waitFor()
      await signIn(page, hand)
      await hand.press(page.locator('.queue a', { hasText: waiting[0]!.name }))
      const lines: string[] = []
      for (const [at, { name }] of waiting.entries()) {
        const before = { actions: hand.count, entries: await entries(address) }
        await page.getByRole('heading', { level: 1, name: `hole ${name}` }).waitFor()
        await decide(page, hand, name)
        await expect.poll(async () => stateOf(await rows(address), name)).toBe('refer')
        if (at + 1 < waiting.length) await hand.key('n', page.getByRole('link', { name: /^next that waits/ }))
        lines.push(
          `${name}: ${hand.count - before.actions} actions, ${(await entries(address)) - before.entries} entries`
        )
      }
      console.log([`${hand.name}, a hole:`, ...lines].join('\n  '))
      expect((await rows(address)).filter(({ open }) => open.length > 0)).toEqual([])
      expect(complaints).toEqual([])
      await page.context().close()
    }, 180_000)
  })

  describe('beside the part', () => {
    const served = servedDemonstration()

    it('a recording that comes into the watched folder is told to be complete, or to be scanned again and why', async () => {
      const { address, folder } = served
      const { page, complaints } = await openPage(browser, { viewport: { width: 1180, height: 820 } })
      const hand = mouse(page)
      await page.goto(`${address}jobs/DEMO-1/scan`)
      await signIn(page, hand)
      await hand.press(page.getByRole('button', { name: 'Next: hole P05' }))
      await page.getByText('scan now').waitFor()
      copyFileSync(join(folder, 'spare-1/hole-P05-again.wav'), join(folder, 'watched/first.wav'))
      await page.locator('.scan-word', { hasText: 'complete' }).waitFor()
      expect(await page.locator('.scan-place').textContent()).toBe('hole P05')
      await hand.press(page.getByRole('button', { name: 'Next: hole P08' }))
      await page.getByText('scan now').waitFor()
      // the same scan that was too fast before, a sample of it changed: another recording of the same trouble
      const bytes = readFileSync(join(folder, 'demonstration-1/hole-P08.wav'))
      bytes.writeFloatLE(bytes.readFloatLE(bytes.length - 4) + 1e-6, bytes.length - 4)
      writeFileSync(join(folder, 'watched/second.wav'), bytes)
      await page.locator('.scan-word', { hasText: 'scan again' }).waitFor()
      expect(await page.locator('.scan-told .refusal').textContent()).toContain(
        'scan the hole again with a slower feed'
      )
      const size = await page.locator('.scan-word').evaluate((one) => Number.parseFloat(getComputedStyle(one).fontSize))
      // a letter of 1/200 of the distance is read with ease (ISO 9241-303 from memory: 16 to 22 arc minutes): 9 to 13 mm at
      // 2 m; at 96 px an inch that is 34 to 49 px of capital height, some 70 px of font
      expect(size).toBeGreaterThan(70)
      expect(stateOf(await rows(address), 'P05')).not.toBe('not examined')
      expect(stateOf(await rows(address), 'P08')).toBe('not examined')
      expect(complaints).toEqual([])
      await page.context().close()
    }, 90_000)
  })

  /** Every indication that waits is called relevant, which needs no reason; the place is referred. */
  async function decide(page: Page, hand: Hand, name: string): Promise<void> {
    await page.locator('.below').waitFor()
    const sheet = page.getByRole('group', { name: 'sheet' }).getByRole('button', { name: 'decide' })
    if (hand.name === 'touch' && (await sheet.isVisible())) await hand.press(sheet)
    await page.getByRole('group', { name: `disposition of hole ${name}` }).waitFor()
    const all = page.getByRole('group', { name: /^class of / })
    await all.waitFor()
    await hand.key('r', all.getByRole('button', { name: 'relevant', exact: true }))
    await hand.key('e', page.getByRole('button', { name: 'refer', exact: true }))
    await hand.key('s', page.getByRole('button', { name: 'Sign and record' }))
  }
})

const job = async (address: string): Promise<{ places: readonly Row[]; entries: number }> =>
  (await (await fetch(`${address}api/jobs/DEMO-1`)).json()) as { places: readonly Row[]; entries: number }
const rows = async (address: string) => (await job(address)).places
const entries = async (address: string) => (await job(address)).entries
const stateOf = (all: readonly Row[], name: string) => all.find((one) => one.name === name)?.state

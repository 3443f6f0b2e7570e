import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { launch, openPage } from './testing/browser.ts'
import { servedDemonstration } from './testing/demonstration.ts'
import { finger, keys, mouse } from './testing/hands.ts'
import { signIn } from './testing/signing-in.ts'

/** Oracle: the record itself, as the interface for programs tells it; actions are counted as a person would. */

interface Row {
  readonly name: string
  readonly state: string
  readonly open: readonly string[]
}

needsTool('chromium', 'a weld in Chromium', (executablePath) => {
  let browser: Browser
  beforeAll(async () => {
    browser = await launch(executablePath)
  })
  afterAll(() => browser?.close())

  describe.each([
    { name: 'mouse', hand: mouse, options: {} },
    { name: 'keys alone', hand: keys, options: {} },
    {
      name: 'touch, one hand on a small tablet',
      hand: finger,
      options: { hasTouch: true, viewport: { width: 600, height: 960 } }
    }
  ])('with $name', ({ hand: handOf, options }) => {
    const served = servedDemonstration()
    const rows = async () =>
      ((await (await fetch(`${served.address}api/jobs/DEMO-2`)).json()) as { places: readonly Row[] }).places

    it('a person decides every track of the demonstration that waits, and the record has it', async () => {
      const { page, complaints } = await openPage(browser, options)
      const hand = handOf(page)
      const waiting = (await rows()).filter(({ open }) => open.length > 0)
      expect(waiting.map(({ name }) => name)).toEqual(['upper toe, left', 'upper toe, right', 'lower toe, right'])
      await page.goto(`${served.address}jobs/DEMO-2`)
      await signIn(page, hand)
      await hand.press(page.locator('.queue a', { hasText: 'upper toe, left' }))
      const lines: string[] = []
      for (const [at, { name, open }] of waiting.entries()) {
        const before = hand.count
        await page.getByRole('heading', { level: 1, name: `track ${name}` }).waitFor()
        await page.locator('.track-map svg').first().waitFor()
        expect(await page.locator('.on-track').count()).toBe(open.length)
        const sheet = page.getByRole('group', { name: 'sheet' }).getByRole('button', { name: 'decide' })
        if (hand.name === 'touch' && (await sheet.isVisible())) await hand.press(sheet)
        for (const words of open) {
          const [id = ''] = /^.*\/\d+/.exec(words) ?? []
          const group = page.getByRole('group', { name: `class of ${id}`, exact: true })
          for (let step = 0; step < 5 && !(await group.isVisible()); step++)
            await hand.key(']', page.getByRole('button', { name: 'next indication' }))
          await hand.key('r', group.getByRole('button', { name: 'relevant', exact: true }))
        }
        await hand.key('x', page.getByRole('button', { name: 'reject', exact: true }))
        await hand.key('s', page.getByRole('button', { name: 'Sign and record' }))
        await expect.poll(async () => (await rows()).find((one) => one.name === name)?.state).toBe('reject')
        if (at + 1 < waiting.length) await hand.key('n', page.getByRole('link', { name: /^next that waits/ }))
        lines.push(`${name}: ${hand.count - before} actions for ${open.length} that waited`)
      }
      console.log([`${hand.name}, a track:`, ...lines].join('\n  '))
      expect(complaints).toEqual([])
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
        page.viewportSize()?.width ?? 0
      )
      await page.context().close()
    }, 120_000)
  })

  describe('on ropes', () => {
    const served = servedDemonstration()

    it('a note is two touches, and a photo of the place is kept and shown beside it', async () => {
      const { page, complaints } = await openPage(browser, { hasTouch: true, viewport: { width: 600, height: 960 } })
      const hand = finger(page)
      await page.goto(`${served.address}jobs/DEMO-2/track/${encodeURIComponent('lower toe, left')}`)
      await signIn(page, hand)
      await hand.press(page.getByRole('group', { name: 'sheet' }).getByRole('button', { name: 'decide' }))
      await hand.press(page.getByRole('button', { name: 'LP: loose paint' }))
      await hand.press(page.getByRole('button', { name: 'Keep as a note' }))
      await page.getByText('note "loose paint"').waitFor()
      const buffer = await page.screenshot({ clip: { x: 0, y: 0, width: 300, height: 200 } })
      await page.getByLabel('photo of this place').setInputFiles({ name: 'IMG 1.png', mimeType: 'image/png', buffer })
      await page.locator('.pictures img').waitFor()
      const { drawings } = (await (await fetch(`${served.address}api/jobs/DEMO-2`)).json()) as {
        drawings: readonly { title: string; places: readonly { name: string }[] }[]
      }
      expect(drawings).toMatchObject([
        { title: 'Photo of track lower toe, left', places: [{ name: 'lower toe, left' }] }
      ])
      const moving = () => page.evaluate(() => document.getAnimations().length)
      expect(await moving()).toBe(0)
      expect(complaints).toEqual([])
      await page.context().close()
    }, 60_000)
  })
})

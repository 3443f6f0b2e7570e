import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import { needsTool } from '../../house/tools.ts'
import { launch, openPage } from './testing/browser.ts'
import { finger, type Hand, keys, mouse } from './testing/hands.ts'
import { passphrases } from './testing/people.ts'
import { signIn } from './testing/signing-in.ts'
import { trialShop } from './testing/trial-shop.ts'

/** Oracle: the record itself, as the interface for programs tells it; actions are counted as a person would. */

const two = { name: 'B. Two', passphrase: passphrases['B. Two'] ?? '' }
const hands = [
  { name: 'mouse', hand: mouse, options: {} },
  { name: 'keys alone', hand: keys, options: {} },
  { name: 'touch', hand: finger, options: { hasTouch: true, viewport: { width: 1180, height: 820 } } }
] as const

needsOutside('trial', 'trial recordings', (folder) => {
  needsTool('chromium', 'walked in Chromium', (executablePath) => {
    let browser: Browser
    beforeAll(async () => {
      browser = await launch(executablePath)
    })
    afterAll(() => browser?.close())

    describe.each(['al-quarter', 'ti-three-eighths'])('%s', (trial) => {
      const shop = trialShop({ trial, folder })

      it.each(hands)(
        'is decided with $name: every place that waits',
        async ({ hand: handOf, options }) => {
          const { address, end } = await shop.serve()
          const { page, complaints } = await openPage(browser, options)
          const hand = handOf(page)
          await page.goto(`${address}jobs/${encodeURIComponent(shop.job)}`)
          await page.locator('.queue li').first().waitFor()
          await signIn(page, hand, two)
          const waiting = (await rowsOf(address, shop.job)).filter(({ open }) => open.length > 0)
          expect(waiting.length).toBeGreaterThan(4)
          await hand.press(page.locator('.queue a', { hasText: waiting[0]?.name ?? '' }))
          const lines: string[] = []
          for (const [at, row] of waiting.entries()) {
            const before = { actions: hand.count, entries: await entriesOf(address, shop.job) }
            await page.getByRole('heading', { level: 1, name: `hole ${row.name}`, exact: true }).waitFor()
            await refer(page, hand, row)
            await expect.poll(async () => stateOf(await rowsOf(address, shop.job), row.name)).toBe('refer')
            if (at + 1 < waiting.length) await hand.key('n', page.getByRole('link', { name: /^next that waits/ }))
            const entries = (await entriesOf(address, shop.job)) - before.entries
            lines.push(
              `${row.name}: ${hand.count - before.actions} actions, ${entries} entries, ${row.open.length} waited`
            )
          }
          console.log([`${trial}, ${hand.name}:`, ...lines].join('\n  '))
          expect((await rowsOf(address, shop.job)).filter(({ open }) => open.length > 0)).toEqual([])
          expect(complaints).toEqual([])
          await page.context().close()
          await end()
        },
        240_000
      )
    })

    describe('with a technique that asks for the class before the proposal', () => {
      const shop = trialShop({ trial: 'al-quarter', folder, technique: { class_first: true } })

      it('nothing is told of what is proposed until the person has stated a class; then all of it', async () => {
        const { address, end } = await shop.serve()
        const { page } = await openPage(browser)
        await page.goto(`${address}jobs/${encodeURIComponent(shop.job)}`)
        await signIn(page, mouse(page), two)
        const [row] = (await rowsOf(address, shop.job)).filter(({ open }) => open.length > 0)
        await page.goto(`${address}jobs/${encodeURIComponent(shop.job)}/hole/${row?.name}`)
        await page.getByText('The technique asks for your class before the proposal is shown').waitFor()
        const told = await page.locator('.place-words, .why, .decide, .map-area').allTextContents()
        expect(told.join(' ')).not.toMatch(/is proposed as|proposed: |taken for|spoke for|above the alarm level/)
        const [first] = idsOf(row)
        await page.keyboard.press('r')
        await page.keyboard.press('s')
        await page.locator('.evidence').waitFor()
        await page
          .getByText(/spoke for/)
          .first()
          .waitFor()
        const { indications } = (await (
          await fetch(`${address}api/jobs/${encodeURIComponent(shop.job)}/places/hole/${row?.name}`)
        ).json()) as { indications: readonly { id: string; decided?: { class: string; beforeProposal: boolean } }[] }
        // who has not signed in is told nothing of it: the record is asked as the person who said it
        const own = await page.evaluate(
          async (path) => (await fetch(path)).json(),
          `/api/jobs/${encodeURIComponent(shop.job)}/places/hole/${row?.name}`
        )
        expect(indications.find(({ id }) => id === first)?.decided).toBeUndefined()
        expect(own.indications.find(({ id }: { id: string }) => id === first).decided).toMatchObject({
          class: 'relevant',
          beforeProposal: true
        })
        await page.context().close()
        await end()
      }, 120_000)
    })
  })
})

interface Row {
  readonly name: string
  readonly state: string
  /** what waits: each begins with the id of its indication */
  readonly open: readonly string[]
}

const jobOf = async (address: string, job: string): Promise<{ places: readonly Row[]; entries: number }> =>
  (await fetch(`${address}api/jobs/${encodeURIComponent(job)}`)).json() as never
const rowsOf = async (address: string, job: string) => (await jobOf(address, job)).places
const entriesOf = async (address: string, job: string) => (await jobOf(address, job)).entries
const stateOf = (all: readonly Row[], name: string) => all.find((one) => one.name === name)?.state
const idsOf = (row: Row | undefined): readonly string[] =>
  (row?.open ?? []).map((words) => words.split(/[,:]/)[0] ?? '')

/** Every indication that waits is called relevant, which needs no reason; the place is referred. */
async function refer(page: Page, hand: Hand, row: Row): Promise<void> {
  await page.locator('.below').waitFor()
  const sheet = page.getByRole('group', { name: 'sheet' }).getByRole('button', { name: 'decide' })
  if (hand.name === 'touch' && (await sheet.isVisible())) await hand.press(sheet)
  await page.getByRole('group', { name: `disposition of hole ${row.name}` }).waitFor()
  for (const id of idsOf(row)) {
    const group = page.getByRole('group', { name: `class of ${id}`, exact: true })
    await page.getByRole('group', { name: /^class of / }).waitFor()
    for (let step = 0; step < 20 && !(await group.isVisible()); step++)
      await hand.key(']', page.getByRole('button', { name: 'next indication' }))
    await hand.key('r', group.getByRole('button', { name: 'relevant', exact: true }))
  }
  await hand.key('e', page.getByRole('button', { name: 'refer', exact: true }))
  await hand.key('s', page.getByRole('button', { name: 'Sign and record' }))
}

import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { addressOf, launch, openPage } from './testing/browser.ts'
import { runIn, type Started, start } from './testing/bundle.ts'
import { signIn } from './testing/signing-in.ts'

/** Oracle: the record, read by a program of its own after whatever has happened: nothing lost, nothing double. */

const inspector = 'Demonstration Inspector (invented)'

needsTool('chromium', 'what happens when a decision is interrupted, in Chromium', (executablePath) => {
  let folder = ''
  let serving: Started
  let browser: Browser
  let address = ''
  const inFolder = runIn(() => folder)

  const serve = async (port = '0') => {
    serving = start(folder, ['serve', '--port', port])
    address = await addressOf(serving)
  }

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'trueloop-interrupted-'))
    expect((await inFolder('demo', '--once')).code).toBe(0)
    await serve()
    browser = await launch(executablePath)
  }, 120_000)

  afterAll(async () => {
    await browser?.close()
    serving.child.kill('SIGINT')
    await serving.ended
    rmSync(folder, { recursive: true, force: true })
  })

  async function at(page: Page, hole: string): Promise<void> {
    await page.goto(`${address}jobs/DEMO-1/hole/${hole}`)
    await page.getByRole('group', { name: /^class of / }).waitFor()
  }

  async function call(page: Page, name: string): Promise<void> {
    const classes = page.getByRole('group', { name: /^class of / })
    await classes.getByRole('button', { name, exact: true }).click()
    await page.getByRole('button', { name: 'Sign and record' }).click()
  }

  /** Entries of a kind about a hole, as the archive has them. */
  async function said(hole: string, kind = 'interpreted'): Promise<readonly { readonly class: string }[]> {
    const { indications, notes } = (await (await fetch(`${address}api/jobs/DEMO-1/places/hole/${hole}`)).json()) as {
      indications: readonly { decided?: { class: string } }[]
      notes: readonly { text: string }[]
    }
    if (kind === 'note') return notes.map(({ text }) => ({ class: text }))
    return indications.flatMap(({ decided }) => decided ?? [])
  }

  const entries = async (): Promise<number> =>
    ((await (await fetch(`${address}api/jobs/DEMO-1`)).json()) as { entries: number }).entries

  it('an answer that is lost on the way leaves one entry, and the page knows it in the end', async () => {
    const { page } = await openPage(browser)
    await at(page, 'P02')
    await signIn(page)
    const before = await entries()
    let lost = 0
    await page.route('**/statements', async (route) => {
      if (lost++ > 0) return route.continue()
      await route.fetch()
      await route.abort()
    })
    await call(page, 'relevant')
    await page.getByText('1 waiting to be recorded').waitFor()
    await page.getByText('P02/1: ').first().waitFor()
    await expect.poll(() => page.getByText('waiting to be recorded').count(), { timeout: 15_000 }).toBe(0)
    expect(lost).toBeGreaterThan(1)
    expect(await said('P02')).toHaveLength(1)
    // the person's own document goes with what they sign first
    expect((await entries()) - before).toBeLessThanOrEqual(2)
    await page.context().close()
  })

  it('a service that is killed in the middle of a decision: it waits in the page, and is recorded once', async () => {
    const { page } = await openPage(browser)
    await at(page, 'P04')
    await signIn(page)
    const before = await entries()
    await page.route(
      '**/statements',
      async (route) => {
        serving.child.kill('SIGKILL')
        await serving.ended
        await route.continue()
      },
      { times: 1 }
    )
    await call(page, 'relevant')
    await page.getByText('1 waiting to be recorded').waitFor()
    await page.getByText('the service does not answer').waitFor()
    // another thought meanwhile, while nobody answers
    await page.getByLabel('reason').fill('seen while the service was away')
    await page.getByRole('button', { name: 'Keep as a note' }).click()
    await page.getByText('2 waiting to be recorded').waitFor()
    await serve(new URL(address).port)
    await page.getByRole('button', { name: 'Sign in' }).waitFor()
    await page.getByText('2 waiting to be recorded').waitFor()
    await signIn(page)
    await expect.poll(() => page.getByText('waiting to be recorded').count(), { timeout: 15_000 }).toBe(0)
    expect(await said('P04')).toMatchObject([{ class: 'relevant' }])
    expect(await said('P04', 'note')).toEqual([{ class: 'seen while the service was away' }])
    expect((await entries()) - before).toBe(2)
    await page.context().close()
  }, 90_000)

  it('a page that is closed while something waits has it again when it is opened', async () => {
    const { page } = await openPage(browser)
    await at(page, 'P07')
    await signIn(page)
    await page.route('**/statements', (route) => route.abort())
    await call(page, 'relevant')
    await page.getByText('1 waiting to be recorded').waitFor()
    const context = page.context()
    await page.close()
    const again = await context.newPage()
    await again.goto(`${address}jobs/DEMO-1`)
    await expect.poll(() => said('P07'), { timeout: 15_000 }).toMatchObject([{ class: 'relevant' }])
    await context.close()
  })

  it('two tabs see what either does, and one that has not seen it is told so', async () => {
    const { page } = await openPage(browser)
    const other = await page.context().newPage()
    const blind = await page.context().newPage()
    await blind.route('**/events', (route) => route.abort())
    for (const tab of [page, other, blind]) await at(tab, 'P10')
    await signIn(page)
    await blind.reload()
    await blind.getByRole('button', { name: 'Lock', exact: true }).waitFor()
    await blind.getByRole('group', { name: /^class of / }).waitFor()
    // from here on this tab hears nothing of what others do
    await blind.route(/\/api\/jobs\/DEMO-1(\/places.*)?$/, () => undefined)
    await call(page, 'relevant')
    await other.getByText(`relevant, said by ${inspector}`).first().waitFor()
    await call(blind, 'damage, not a crack')
    await blind.getByText('Not recorded').waitFor()
    expect(await blind.locator('.refusal').first().textContent()).toContain(inspector)
    expect((await said('P10')).map((one) => one.class)).toEqual(['relevant'])
    await page.context().close()
  }, 90_000)
})

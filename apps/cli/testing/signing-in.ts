import type { Page } from 'playwright-core'
import { type Hand, mouse } from './hands.ts'

/** A person opens their key at a page. Without `who` it is the inspector of the demonstration. */
export async function signIn(
  page: Page,
  hand: Hand = mouse(page),
  who: { readonly name: string; readonly passphrase: string } = demonstrated
): Promise<void> {
  await hand.press(page.getByRole('button', { name: 'Sign in' }))
  await hand.press(page.getByRole('radio', { name: who.name }).first())
  await hand.write(page.getByLabel('Passphrase'), who.passphrase)
  await hand.press(page.locator('dialog').getByRole('button', { name: 'Sign in' }))
  await page.getByRole('button', { name: 'Lock', exact: true }).waitFor()
}

const demonstrated = {
  name: 'Demonstration Inspector (invented)',
  passphrase: 'invented words for the demonstration'
}

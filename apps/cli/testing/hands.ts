import type { Locator, Page } from 'playwright-core'

/** How a person uses a page: with a mouse, with keys alone, or with a finger. Every action is counted. */
export interface Hand {
  readonly name: string
  /** actions so far: clicks, touches, keys, and texts that were typed (one each) */
  count: number
  press(target: Locator): Promise<void>
  write(target: Locator, text: string): Promise<void>
  /** a key of the page, where the hand has keys; else what it stands for is pressed */
  key(key: string, instead: Locator): Promise<void>
}

const acting = (name: string, page: Page, act: (target: Locator) => Promise<void>): Hand => ({
  ...{ name, count: 0 },
  async press(target) {
    this.count++
    await act(target)
  },
  async write(target, text) {
    this.count++
    await target.focus()
    await page.keyboard.type(text)
  },
  async key(_, instead) {
    await this.press(instead)
  }
})

export const mouse = (page: Page): Hand => acting('mouse', page, (target) => target.click())

export const finger = (page: Page): Hand => acting('touch', page, (target) => target.tap())

/** Most steps with the tabulator before something counts as out of reach. */
const reach = 120

/** Nothing is clicked: the tabulator goes to what is to be pressed, and each step counts. */
export function keys(page: Page): Hand {
  const isThere = (target: Locator): Promise<boolean> => target.evaluate((one) => one === document.activeElement)
  const goTo = async (hand: Hand, target: Locator): Promise<void> => {
    for (let step = 0; step < reach; step++) {
      if (await isThere(target)) return
      hand.count++
      await page.keyboard.press('Tab')
    }
    throw new Error(`out of reach of the tabulator: ${target}`)
  }
  /** The tabulator goes to a group of choices as a whole; arrows choose within it. */
  const choose = async (hand: Hand, target: Locator): Promise<void> => {
    const group = page.locator(`input[type=radio][name=${await target.getAttribute('name')}]`)
    const isInGroup = () => group.evaluateAll((all) => all.some((one) => one === document.activeElement))
    for (let step = 0; step < reach && !(await isInGroup()); step++) {
      hand.count++
      await page.keyboard.press('Tab')
    }
    for (let step = 0; step < reach && !(await target.isChecked()); step++) {
      hand.count++
      await page.keyboard.press('ArrowDown')
    }
  }
  return {
    ...{ name: 'keys', count: 0 },
    async press(target) {
      const isRadio = await target.evaluate((one) => one instanceof HTMLInputElement && one.type === 'radio')
      if (isRadio) return choose(this, target)
      await goTo(this, target)
      this.count++
      await page.keyboard.press('Enter')
    },
    async write(target, text) {
      await goTo(this, target)
      this.count++
      await page.keyboard.type(text)
    },
    async key(key) {
      this.count++
      // keys of the page count nowhere where text is written
      await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
      await page.keyboard.press(key)
    }
  }
}

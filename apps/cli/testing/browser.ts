import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core'
import type { Started } from './bundle.ts'

/** A real browser at the workbench, and what it says of the page. */

export const launch = (executablePath: string): Promise<Browser> => chromium.launch({ executablePath, args })

const args = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking']

/** The address that a serving program prints. */
export function addressOf({ child, ended }: Started): Promise<string> {
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

export interface Watched {
  readonly page: Page
  /** what the browser's console, its scripts and its network complained of */
  readonly complaints: string[]
}

/** A page whose complaints are gathered; answers of 400 and more are told apart by the tests that provoke them. */
export async function openPage(browser: Browser, options: BrowserContextOptions = {}): Promise<Watched> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options })
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => void (message.type() === 'error' && complaints.push(message.text())))
  page.on('pageerror', (error) => void complaints.push(error.message))
  return { page, complaints }
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** What axe finds against WCAG 2.2 AA, and against a contrast of 7:1. The page must be open with `bypassCSP`. */
export async function violations(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe)
  return page.evaluate(async () => {
    const { axe: judge } = window as unknown as { axe: { run(of: Document, how: object): Promise<Judged> } }
    interface Judged {
      readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[]
    }
    const runOnly = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']
    const rules = { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } }
    const { violations: all } = await judge.run(document, { runOnly, rules })
    return all.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`))
  })
}

/** Targets that a finger could miss: buttons, links and fields less than 44 CSS pixels high or wide. */
export const smallTargets = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() =>
    Array.from(document.querySelectorAll('button, a, input, select, textarea, [role=application]')).flatMap((one) => {
      const { width, height } = (one.closest('label') ?? one).getBoundingClientRect()
      const isSeen = width > 0 && height > 0 && !one.classList.contains('skip')
      return isSeen && (width < 43.5 || height < 43.5)
        ? [`${Math.round(width)} × ${Math.round(height)}: ${one.outerHTML.slice(0, 120)}`]
        : []
    })
  )

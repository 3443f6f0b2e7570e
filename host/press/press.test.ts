import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Block, reportBlocks } from '@trueloop/job/record'
import { inventedReport } from '@trueloop/job/record/testing'
import { type Browser, chromium } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { html, reportHtml } from './index.ts'
import { themes } from './style.ts'

const report = reportHtml(inventedReport())
/** The blocks that the page is made of: what a browser shows is counted against them. */
const blocksOf = (kind: Block['block']) => reportBlocks(inventedReport()).filter(({ block }) => block === kind)
const page = (blocks: Parameters<typeof html>[0]['blocks']) => html({ title: 'a & b', blocks })

describe('html', () => {
  it('needs nothing from outside and runs nothing', () => {
    const addresses = [...report.matchAll(/(?:src|href|url)\s*[=(]\s*"?([^"\s)>]+)/g)].map(
      ([, address]) => address ?? ''
    )
    expect(addresses.filter((address) => !address.startsWith('#') && !address.startsWith('data:image/png'))).toEqual([])
    expect(report).not.toMatch(/<script|<link|<iframe|@import|\son\w+=/i)
  })

  it('writes text so that it stays text', () => {
    const wild = '<img src=x onerror=alert(1)> & "quoted"'
    const text = page([
      { block: 'heading', level: 2, title: wild },
      { block: 'paragraph', text: wild },
      { block: 'caution', tone: 'note', title: wild, text: wild },
      { block: 'facts', facts: [{ label: wild, value: wild, known: wild }] },
      { block: 'table', caption: wild, columns: [{ label: wild }], rows: [[{ text: wild }]] },
      { block: 'figure', svg: '<svg><title>x</title></svg>', alt: `${wild} $& $1`, caption: wild, width: 'whole' },
      { block: 'list', items: [wild] },
      { block: 'page-break' }
    ])
    expect(text).not.toContain('<img')
    expect(text).toContain('<title>&lt;img src=x onerror=alert(1)&gt; &amp; &quot;quoted&quot; $&amp; $1</title>')
  })

  it('gives every table a caption and header cells for columns and rows', () => {
    const text = page([
      {
        block: 'table',
        caption: 'Zones',
        columns: [{ label: 'Zone' }, { label: 'Depth', figures: true }],
        rows: [[{ text: 'a' }, { text: '1 mm' }]]
      }
    ])
    expect(text).toContain('<caption>Zones</caption>')
    expect(text).toContain('<th scope="col">Zone</th><th scope="col" class="figures">Depth</th>')
    expect(text).toContain('<th scope="row">a</th><td class="figures">1 mm</td>')
  })

  it('sets half-width drawings side by side, and only those that follow each other', () => {
    const half = { block: 'figure', svg: '<svg></svg>', alt: 'a', caption: 'b', width: 'half' } as const
    const text = page([half, half, { block: 'paragraph', text: 'between' }, half])
    expect(text.match(/<div class="figures-row">/g)).toHaveLength(2)
    expect(text.match(/<figure/g)).toHaveLength(3)
  })

  it('keeps a demonstration in sight, and in the last line', () => {
    expect(report).toContain('<p class="stamp">Demonstration: invented data, never to be signed off</p>')
    expect(report).toMatch(
      /<footer>Demonstration: invented data, never to be signed off\. Unsigned\. Job INV-7\. Chain head 28:[0-9a-f]{64}\./
    )
  })
})

/** source: wcag21, definitions of relative luminance and contrast ratio */
function contrast(one: string, other: string): number {
  const [low = 0, high = 0] = [one, other].map(luminance).sort((a, b) => a - b)
  return (high + 0.05) / (low + 0.05)
}

function luminance(color: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(color.slice(at, at + 2), 16) / 255
    return value <= 0.03928 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

describe.each(Object.entries(themes))('by %s', (_, tones) => {
  it.each(['ink', 'soft', 'accent', 'amber', 'red'] as const)('%s can be read on paper and on tint', (tone) => {
    expect(contrast(tones[tone], tones.paper)).toBeGreaterThanOrEqual(7)
    expect(contrast(tones[tone], tones.tint)).toBeGreaterThanOrEqual(7)
  })
  it('pale lines can be told from paper', () => expect(contrast(tones.faint, tones.paper)).toBeGreaterThanOrEqual(3))
})

needsTool('chromium', 'the report in a browser', (executablePath) => {
  let browser: Browser | undefined
  const folder = mkdtempSync(join(tmpdir(), 'trueloop-press-'))
  const file = join(folder, 'report.html')
  const args = [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync'
  ]

  beforeAll(async () => {
    writeFileSync(file, report)
    browser = await chromium.launch({ executablePath, args })
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  async function opened(width: number) {
    const view = await (browser as Browser).newPage({ viewport: { width, height: 900 } })
    const asked: string[] = []
    const errors: string[] = []
    view.on('request', (request) => asked.push(request.url()))
    view.on('console', (message) => errors.push(message.text()))
    view.on('pageerror', (error) => errors.push(error.message))
    await view.goto(pathToFileURL(file).href)
    return { view, asked, errors }
  }

  it('asks for nothing but itself and complains of nothing', async () => {
    const { view, asked, errors } = await opened(1000)
    expect(asked.filter((url) => !url.startsWith('data:'))).toEqual([pathToFileURL(file).href])
    expect(errors).toEqual([])
    await view.close()
  })

  it('has one first heading, and no level left out', async () => {
    const { view } = await opened(1000)
    const levels = await view.$$eval('h1,h2,h3,h4', (all) => all.map((one) => Number(one.tagName.slice(1))))
    expect(levels.filter((level) => level === 1)).toHaveLength(1)
    for (const [at, level] of levels.entries()) expect(level - (levels[at - 1] ?? 0)).toBeLessThanOrEqual(1)
    await view.close()
  })

  it('shows every drawing with its words, and every picture of cells', async () => {
    const { view } = await opened(1000)
    const drawings = await view.$$eval('figure > svg', (all) =>
      all.map((one) => ({
        words: one.querySelector('title')?.textContent ?? '',
        width: one.getBoundingClientRect().width
      }))
    )
    expect(drawings).toHaveLength(blocksOf('figure').length)
    for (const { words, width } of drawings) {
      expect(words.length).toBeGreaterThan(30)
      expect(width).toBeGreaterThan(200)
    }
    const painted = await view.$$eval('figure image', (all) =>
      Promise.all(
        all.map(async (one) => {
          const image = new Image()
          image.src = one.getAttribute('href') ?? ''
          await image.decode()
          return image.naturalWidth
        })
      )
    )
    expect(painted.every((width) => width >= 1)).toBe(true)
    expect(painted).toHaveLength(8)
    await view.close()
  })

  it.each([360, 1000, 1600])('does not run out of a window %d px wide', async (width) => {
    const { view } = await opened(width)
    expect(await view.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBe(
      0
    )
    await view.close()
  })

  it('reaches each part from the list of parts', async () => {
    const { view } = await opened(1000)
    const lost = await view.$$eval(
      'nav a',
      (all) => all.filter((one) => document.querySelector(one.getAttribute('href') ?? '') === null).length
    )
    const parts = blocksOf('heading').filter((one) => one.block === 'heading' && one.level === 2).length
    expect(await view.$$eval('nav a', (all) => all.length)).toBe(parts)
    expect(lost).toBe(0)
    await view.close()
  })
})

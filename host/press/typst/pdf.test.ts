import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, reportBlocks } from '@trueloop/job/record'
import { inventedReport, plain } from '@trueloop/job/record/testing'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../../house/tools.ts'
import { reportHtml, reportPdf } from '../index.ts'
import { fonts } from './fonts.ts'
import { type Attachment, type Print, pdf } from './index.ts'
import { newSetting } from './setting.ts'
import { shower } from './shown.ts'

const print = (blocks: readonly Block[], over: Partial<Print> = {}): Print => ({
  ...{ title: 'Title', blocks, foot: 'FOOT', time: '2026-03-14T12:00:00Z' },
  ...over
})

async function bytesOf(made: ReturnType<typeof pdf>): Promise<Buffer> {
  const result = await made
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return Buffer.from(result)
}

const attachments: readonly Attachment[] = [
  {
    ...{ name: 'record.json', mime: 'application/json', description: 'the record', relationship: 'source' },
    bytes: Buffer.from('{"a":"Ø ≤ \\u0001"}')
  },
  {
    ...{ name: 'all-bytes.bin', mime: 'application/octet-stream', description: 'every byte', relationship: 'data' },
    bytes: Uint8Array.from({ length: 512 }, (_, at) => at & 255)
  }
]

needsTool('pdfdetach', 'attachments of a report', (program) => {
  it('come out of it byte for byte', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'trueloop-press-'))
    const path = join(folder, 'report.pdf')
    writeFileSync(path, await bytesOf(reportPdf(inventedReport(), attachments)))
    for (const { name, bytes } of attachments) {
      const out = join(folder, name)
      execFileSync(program, ['-savefile', name, '-o', out, path], { stdio: 'ignore' })
      expect(readFileSync(out).equals(bytes)).toBe(true)
    }
    rmSync(folder, { recursive: true, force: true })
  }, 60_000)
})

needsTool('qpdf', 'structure of a report', (program) => {
  it('has no fault that another program finds', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'trueloop-press-'))
    const path = join(folder, 'report.pdf')
    writeFileSync(path, await bytesOf(reportPdf(inventedReport(), attachments)))
    expect(execFileSync(program, ['--check', path], { encoding: 'utf8' })).toContain(
      'No syntax or stream encoding errors'
    )
    rmSync(folder, { recursive: true, force: true })
  }, 60_000)
})

describe('a report as PDF', () => {
  let whole: Buffer
  beforeAll(async () => {
    whole = await bytesOf(reportPdf(inventedReport(), attachments))
  }, 60_000)

  it('is equal to the byte each time, and has no other time than that of its printing', async () => {
    expect((await bytesOf(reportPdf(inventedReport(), attachments))).equals(whole)).toBe(true)
    const text = whole.toString('latin1')
    const times = [...text.matchAll(/\/(?:CreationDate|ModDate)\s*\(([^)]*)\)|<xmp:\w+Date>([^<]*)</g)]
    expect(times.length).toBeGreaterThan(1)
    for (const [, info, xmp] of times) expect(info ?? xmp).toMatch(/^(?:D:20260314120000|2026-03-14T12:00:00)/)
  }, 60_000)

  it('says that it is written as PDF/A-3 at level A, tagged, in English, under its title', () => {
    const text = whole.toString('latin1')
    expect(text.slice(0, 8)).toBe('%PDF-1.7')
    expect(text).toContain('<pdfaid:part>3</pdfaid:part>')
    expect(text).toContain('<pdfaid:conformance>A</pdfaid:conformance>')
    expect(text).toMatch(/\/Marked true/)
    expect(text).toMatch(/\/Lang\s*\(en-US\)/)
    expect(text).toContain('Job INV-7: Wing panel, serial 0042 (invented)')
  })

  it('gives every drawing its words', () => {
    const drawings = reportBlocks(inventedReport()).filter(({ block }) => block === 'figure').length
    expect(whole.toString('latin1').match(/\/Alt\s*[(<]/g)?.length).toBe(drawings)
  })

  it('names each attachment with what it is to the report', () => {
    const text = whole.toString('latin1')
    expect(text).toMatch(/\/AFRelationship\s*\/Source/)
    expect(text).toMatch(/\/AFRelationship\s*\/Data/)
  })

  it('takes a time without an offset as universal time', async () => {
    const made = await bytesOf(pdf(print([{ block: 'paragraph', text: 'x' }], { time: '2026-01-02T03:04:05' })))
    expect(made.toString('latin1')).toContain('D:20260102030405')
  })

  it('is refused where the typesetter is missing, with the HTML report as the way out', async () => {
    const made = await pdf(print([]), () => Promise.reject(new Error('Cannot find native binding.\nand more')))
    expect(made).toMatchObject({ code: 'press/no-typesetter', found: 'Cannot find native binding.' })
    expect(isRefusal(made) && made.remedy).toContain('HTML report')
    expect(reportHtml(inventedReport())).toContain('</html>')
  })

  it('throws at a name that is no plain file name', async () => {
    const [first] = attachments
    await expect(pdf(print([], { attachments: [{ ...first!, name: '../x' }] }))).rejects.toThrow('no name for a file')
  })
})

describe('text of a print', () => {
  const { show, missed } = shower(fonts())

  it('has every character that the report of the invented job and our units use', () => {
    for (const text of [plain(reportBlocks(inventedReport())), 'Ø≤≥−°²µ·Δ±…“”‘’×–—→ø½σ✓'])
      expect(show(text)).toBe(text.normalize('NFC'))
    expect(missed()).toBe(0)
  })

  it('shows what can not be shown by its number, and counts it', () => {
    const words = shower(fonts())
    expect(words.show('a\u0001b\u202ec\u4e2d\u{1f600}\ud800d\u00ade\u0301x\u0301')).toBe(
      'a[U+0001]b[U+202E]c[U+4E2D][U+1F600][U+D800]d[U+00AD]éx[U+0301]'
    )
    expect(words.missed()).toBe(7)
  })
})

/** Texts of all kinds: plain words, what typst would take for markup, any Unicode, long words without a space. */
const markup = [
  ...['#read("/etc/hostname")', '#panic("x")', '= Heading', '- item', '+ item', '/ Term: x', '*bold*', '_emphasis_'],
  ...['`raw`', '```x```', '$ x^2 $', '<label>', '@reference', '\\', '\\u{41}', '//comment', '/* comment */', '---'],
  ...['"quoted"', "it's", '~', '...', '-?', '[content]', '{code}', '#{', '#]', ']', '}', '#let x = 1', '%', '&amp;'],
  ...['https://example.invalid/a', '"), #panic(("', '\\"', '\u2028', 'ﬁ', 'fi ffl', '1.\n2.', '#import "x"', '$&']
]
const word = fc.oneof(
  fc.constantFrom(...markup),
  fc.string({ minLength: 1, maxLength: 30 }),
  fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }),
  fc.string({ unit: 'binary', minLength: 1, maxLength: 20 }),
  fc.string({ unit: fc.constantFrom(...'aMi_.0Ø≤µ'), minLength: 60, maxLength: 150 })
)
const text = fc.array(word, { minLength: 1, maxLength: 6 }).map((words) => `${words.join(' ')}.`)

needsTool('pdftotext', 'what another program reads in it', (program) => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'trueloop-press-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  const pagesOf = (bytes: Buffer): readonly string[] => {
    const path = join(folder, 'print.pdf')
    writeFileSync(path, bytes)
    const all = execFileSync(program, ['-raw', '-enc', 'UTF-8', path, '-'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore']
    })
    return all.split('\f').slice(0, -1)
  }

  const bare = (said: string): string => said.replaceAll(/[\s\u00a0\u200b]/gu, '')
  const foot = (at: number, of: number): string => `FOOTPage${at}of${of}`

  /** Each block on a page of its own, so that what is read there is that block and the foot. */
  const alone = (blocks: readonly Block[]): readonly Block[] =>
    blocks.flatMap((block, at) => (at === 0 ? [block] : [{ block: 'page-break' }, block]))

  it('is every text of every kind of block, to the character, whatever it says', async () => {
    const show = (said: string) => newSetting().show(said)
    await fc.assert(
      fc.asyncProperty(fc.array(text, { minLength: 10, maxLength: 10 }), async (texts) => {
        const [a, b, c, d, e, f, g, h, i, j] = texts as [string, ...string[]]
        const made = await bytesOf(
          pdf(
            print(
              alone([
                { block: 'paragraph', text: a },
                { block: 'heading', level: 3, title: b! },
                { block: 'caution', tone: 'stop', title: c!, text: d! },
                { block: 'facts', facts: [{ label: e!, value: f!, known: g! }] },
                { block: 'table', caption: h!, columns: [{ label: i! }], rows: [[{ text: j! }]] },
                { block: 'list', items: [a] },
                { block: 'paragraph', text: 'END' }
              ])
            )
          )
        )
        const pages = pagesOf(made).map(bare)
        const said = [[a], [b], [c, d], [e, f, g], [h, i, j], ['•', a]].map((own) =>
          bare(own.map((one) => show(one!)).join(''))
        )
        const read = pages.map((page, at) => page.replace(foot(at + 1, pages.length), ''))
        expect(read.pop()).toMatch(/^END(?:Charactersthatthefonts.*)?$/)
        expect(read.join('|')).toBe(said.join('|'))
      }),
      { numRuns: 25, endOnFailure: true }
    )
  }, 120_000)

  it('has what a report must hold on the foot of each page, and a mark where it is a demonstration', async () => {
    const input = inventedReport()
    const pages = pagesOf(await bytesOf(reportPdf(input, [])))
    const { count, head } = input.state
    const foot = `Job INV-7 · chain head ${count}:${head.slice(0, 12)} · method 1 · Trueloop 0.0.0-invented · unsigned`
    for (const [at, page] of pages.entries()) {
      expect(page).toContain('DEMONSTRATION: invented data, never to be signed off')
      expect(page).toContain(foot)
      expect(page).toContain(`Page ${at + 1} of ${pages.length}`)
    }
    const { opened } = input.state
    const real = {
      ...input,
      state: { ...input.state, opened: { ...opened, job: { ...opened.job, demonstration: false } } }
    }
    expect(pagesOf(await bytesOf(reportPdf(real, []))).join('')).not.toContain('DEMONSTRATION')
  }, 60_000)

  it('repeats the heads of a table on each page that it runs over', async () => {
    const rows = Array.from({ length: 150 }, (_, at) => [{ text: `row ${at}` }, { text: 'x' }])
    const table: Block = {
      block: 'table',
      caption: 'long',
      columns: [{ label: 'First head' }, { label: 'Second' }],
      rows
    }
    const pages = pagesOf(await bytesOf(pdf(print([table]))))
    expect(pages.length).toBeGreaterThan(2)
    for (const page of pages) expect(page).toMatch(/First head\s+Second/)
  })

  it('lies within the page, however many columns a table has and however long its words are', async () => {
    const long = fc.string({ unit: fc.constantFrom(...'aMi_.0Ø-/ '), minLength: 1, maxLength: 90 })
    const row = fc.array(long, { minLength: 12, maxLength: 12 })
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 2, maxLength: 2 }), async ([heads, texts]) => {
        const table: Block = {
          ...{ block: 'table', caption: 'caption' },
          columns: heads!.map((label, at) => ({ label: `${label}x`, figures: at % 2 === 0 })),
          rows: [texts!.map((one) => ({ text: one })), texts!.map((one) => ({ text: one, symbol: square }))]
        }
        const path = join(folder, 'wide.pdf')
        writeFileSync(path, await bytesOf(pdf(print([table]))))
        const boxes = execFileSync(program, ['-bbox', path, '-'], {
          encoding: 'utf8',
          stdio: ['ignore', 'pipe', 'ignore']
        })
        const rights = [...boxes.matchAll(/xMax="([\d.]+)"/g)].map(([, right]) => Number(right))
        expect(rights.length).toBeGreaterThan(24)
        // A4 is 595.28 points wide, less a margin of 16 mm
        expect(Math.max(...rights)).toBeLessThan(595.28 - 45.35 + 0.5)
        expect(bare(pagesOf(readFileSync(path)).join(''))).toContain(bare(texts!.join('')))
      }),
      { numRuns: 12, endOnFailure: true }
    )
  }, 120_000)
})

const square = '<svg xmlns="http://www.w3.org/2000/svg" width="16" height="16"><path d="M2 2L14 2L14 14Z"/></svg>'

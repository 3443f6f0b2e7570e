import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import type { HoleSheet, SheetDrawing } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import { checkJob, keepDrawing, mostDrawingBytes, openJob, reportHtml } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { got } from './testing/laws.ts'

/** Oracle: the sheets, which the test writes, and the bytes that it kept itself. */

const svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"/>'
const photo = Buffer.from('ffd8ffe000104a464946', 'hex')

let folder = ''
let archive: Archive
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-drawings-'))
  archive = got(await openArchive(join(folder, 'archive')))
  writeFileSync(join(folder, 'panel.svg'), svg)
  writeFileSync(join(folder, 'panel.jpg'), photo)
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const at = (name: string, x: number, y: number, page = 1) => ({ name, x, y, page })
const sheetWith = (...drawings: readonly SheetDrawing[]): HoleSheet => ({
  ...demoJob(folder, []),
  drawings: [...drawings]
})
const open = (sheet: HoleSheet) => openJob({ sheet, folder, archive })
const drawn = async () => (await rows()).filter(({ kind }) => kind === 'places-drawn')
const rows = async () => got(await archive.entries('DEMO-1'))
const drawings = async () => replay(await rows()).drawings
const panel = (...places: SheetDrawing['places']): SheetDrawing => ({ file: 'panel.svg', title: 'Panel', places })

describe('a drawing of the job sheet', () => {
  it('is kept as an original with its form and title, and its places are in the record', async () => {
    got(await open(sheetWith(panel(at('P01', 0.25, 0.5), at('P02', 0.75, 0.5)), { file: 'panel.jpg', places: [] })))
    expect(await drawings()).toMatchObject([
      {
        entry: { sha256: sha256(svg), bytes: svg.length, file: 'panel.svg', form: 'image/svg+xml', title: 'Panel' },
        places: [
          { of: 'hole', name: 'P01', x: 0.25, y: 0.5, page: 1 },
          { of: 'hole', name: 'P02', x: 0.75, y: 0.5, page: 1 }
        ]
      },
      { entry: { form: 'image/jpeg', bytes: photo.length }, places: [] }
    ])
    expect(got(await checkJob(archive, 'DEMO-1', {}))).toMatchObject({ intact: { holds: true } })
    const report = got(await reportHtml(archive, 'DEMO-1'))
    expect([report?.includes('panel.svg'), report?.includes(sha256(svg))]).toEqual([true, true])
  })

  it('adds nothing when it is opened again, and only what lies elsewhere when it has moved', async () => {
    got(await open(sheetWith(panel(at('P01', 0.25, 0.5), at('P02', 0.75, 0.5)))))
    const { length } = await rows()
    got(await open(sheetWith(panel(at('P01', 0.25, 0.5), at('P02', 0.75, 0.5)))))
    expect((await rows()).length).toBe(length)
    got(await open(sheetWith(panel(at('P01', 0.25, 0.5), at('P02', 0.7, 0.5), at('P03', 0.9, 0.1)))))
    const [, last, ...more] = await drawn()
    expect(more).toEqual([])
    expect(JSON.parse(last?.body ?? '').places.map(({ place }: { place: { name: string } }) => place.name)).toEqual([
      'P02',
      'P03'
    ])
    got(await open(sheetWith(panel(at('P01', 0.25, 0.5), at('P02', 0.75, 0.5)))))
    expect((await drawings())[0]?.places.map(({ name, x }) => [name, x])).toEqual([
      ['P01', 0.25],
      ['P02', 0.75],
      ['P03', 0.9]
    ])
  })

  it('is missed by verify where its bytes are gone', async () => {
    got(await open(sheetWith(panel())))
    rmSync(join(folder, 'archive', 'originals', sha256(svg).slice(0, 2)), { recursive: true })
    const { intact } = got(await checkJob(archive, 'DEMO-1', {}))
    expect(intact.faults.map(({ place }) => place).join()).toContain('panel.svg')
  })

  it.each([
    ['chain/no-drawing', 'gone.svg', undefined],
    ['chain/not-a-drawing', 'list.csv', 'time_s,x_V\n'],
    ['chain/not-a-drawing', 'empty.png', '']
  ])('is refused with its place in the sheet, and nothing is recorded: %s (%s)', async (code, file, content) => {
    if (content !== undefined) writeFileSync(join(folder, file), content)
    const no = await open(sheetWith(panel(), { file, places: [] }))
    expect(no).toMatchObject({ refused: true, code, where: { path: 'drawings[1].file' } })
    expect(await rows()).toEqual([])
  })
})

describe('the bytes of a drawing', () => {
  it('are the same drawing in whatever pieces they come', async () => {
    async function* pieces() {
      for (const byte of Buffer.from(svg)) yield Uint8Array.of(byte)
    }
    expect(got(await keepDrawing(archive, { file: 'panel.svg', bytes: pieces() }))).toEqual({
      ...{ sha256: sha256(svg), bytes: svg.length, form: 'image/svg+xml' }
    })
  })

  it('are not read on where there are too many', async () => {
    let read = 0
    async function* pieces() {
      yield photo
      for (;;) {
        read += 1 << 20
        yield new Uint8Array(1 << 20)
      }
    }
    const no = await keepDrawing(archive, { file: 'endless.jpg', bytes: pieces() })
    expect(isRefusal(no) && no.code).toBe('chain/not-a-drawing')
    expect(read).toBeLessThanOrEqual(mostDrawingBytes + (1 << 20))
  })
})

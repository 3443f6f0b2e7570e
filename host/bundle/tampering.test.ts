import { openSync, writeSync } from 'node:fs'
import { isRefusal, placeText } from '@trueloop/ground/refusal'
import * as fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBundle } from './index.ts'
import { measureBytes } from './measure.ts'
import { type Packed, pack, unpack } from './testing/forged.ts'
import { type Home, makeHome } from './testing/home.ts'
import { addSmallJob, plainJob } from './testing/small-job.ts'
import { layoutOf } from './zip/layout.ts'

let home: Home
let zip: Buffer
let files: readonly Packed[]
let path: string

beforeAll(async () => {
  home = makeHome()
  const archive = await home.archive()
  await addSmallJob(archive, plainJob)
  zip = await home.exported(archive, plainJob.job)
  files = unpack(zip)
  path = home.written('tampered.zip', zip)
})
afterAll(() => home.end())

/** Changes one byte of the file on the disk, opens it, and puts the byte back. */
async function opened(at: number, value: number) {
  const file = openSync(path, 'r+')
  writeSync(file, Buffer.of(value), 0, 1, at)
  const bundle = await openBundle(path)
  writeSync(file, Buffer.of(zip[at] ?? 0), 0, 1, at)
  if (!isRefusal(bundle)) await bundle.close()
  return bundle
}

const layout = () => layoutOf(files.map(({ name, bytes }) => ({ name, ...measureBytes(bytes) })))

/** Every byte that is no content: headers, directory, end. */
const outside = (): readonly number[] => {
  const { headers, directory } = layout()
  return [...headers, directory].flatMap(({ at, bytes }) => [...bytes.keys()].map((index) => at + index))
}

describe('one byte changed', () => {
  it('in any header, in the directory or at the end is found, all of them, with its file', async () => {
    const unseen: number[] = []
    for (const at of outside()) {
      const no = await opened(at, (zip[at] ?? 0) ^ 0x01)
      if (!isRefusal(no) || no.where?.file !== path) unseen.push(at)
    }
    expect(unseen).toEqual([])
  })

  it('anywhere, to anything, is found; inside a file with the name of that file', async () => {
    const { headers } = layout()
    const fileAt = (at: number) => {
      const index = headers.findLastIndex(({ at: from, bytes }) => from + bytes.length <= at)
      const from = headers[index]
      const length = files[index]?.bytes.length ?? 0
      return from !== undefined && at < from.at + from.bytes.length + length ? files[index]?.name : undefined
    }
    const byte = fc.nat({ max: zip.length - 1 })
    await fc.assert(
      fc.asyncProperty(byte, fc.integer({ min: 1, max: 255 }), async (at, change) => {
        const no = await opened(at, (zip[at] ?? 0) ^ change)
        expect(isRefusal(no)).toBe(true)
        const name = fileAt(at)
        if (name !== undefined && isRefusal(no)) expect(placeText(no.where ?? {})).toContain(name)
      }),
      { numRuns: 400 }
    )
  })

  it('is missed by nobody: untouched it opens', async () => {
    const bundle = await openBundle(path)
    expect(isRefusal(bundle)).toBe(false)
    if (!isRefusal(bundle)) await bundle.close()
  })
})

describe('members', () => {
  const isRefused = async (changed: readonly Packed[]) => {
    const bundle = await openBundle(home.written('members.zip', pack(changed)))
    if (isRefusal(bundle)) return true
    await bundle.close()
    return false
  }

  it('removed, doubled, appended or moved are found, each of them', async () => {
    expect(await isRefused(files)).toBe(false)
    for (const [at, file] of files.entries()) {
      const rest = files.filter((_, index) => index !== at)
      expect(await isRefused(rest), `without ${file.name}`).toBe(true)
      expect(await isRefused([...files, file]), `${file.name} twice`).toBe(true)
      const next = (at + 1) % files.length
      const moved = rest.toSpliced(next, 0, file)
      expect(await isRefused(moved), `${file.name} moved`).toBe(true)
    }
    expect(await isRefused([...files, { name: 'reports/zz.html', bytes: Buffer.from('x') }])).toBe(true)
  })
})

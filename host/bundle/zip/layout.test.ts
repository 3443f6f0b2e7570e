import { closeSync, ftruncateSync, openSync, writeSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import { afterAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../../house/tools.ts'
import { makeHome } from '../testing/home.ts'
import { run } from '../testing/run.ts'
import { layoutOf, type Member } from './layout.ts'
import { openZip } from './read.ts'

const home = makeHome()
afterAll(() => home.end())

const big = 5_000_000_000
const members: readonly Member[] = [
  { name: 'first', bytes: 3, crc: 0 },
  { name: `originals/${'a'.repeat(64)}`, bytes: big, crc: 0 },
  { name: 'last', bytes: 5, crc: 0 }
]

/** A file of several gigabytes that takes none of the disk: its content is a hole. */
function sparse(name: string, all: readonly Member[]): string {
  const path = home.path(name)
  const file = openSync(path, 'w')
  const { headers, directory, bytes } = layoutOf(all)
  for (const piece of [...headers, directory]) writeSync(file, piece.bytes, 0, piece.bytes.length, piece.at)
  ftruncateSync(file, bytes)
  closeSync(file)
  return path
}

describe('a ZIP of more than four gigabytes', () => {
  it('is read by a library of its own, sizes and places right', async () => {
    const zip = await openZip(sparse('big.zip', members))
    if (isRefusal(zip)) throw new Error(zip.found)
    expect(zip.members.map(({ name, bytes }) => ({ name, bytes }))).toEqual(
      members.map(({ name, bytes }) => ({ name, bytes }))
    )
    const { headers } = layoutOf(members)
    expect(headers[2]?.at).toBeGreaterThan(big)
    await zip.close()
  })

  it('with more members than the short end can count is read too', async () => {
    const many = Array.from({ length: 70_000 }, (_, at) => ({ name: `f${at}`, bytes: 0, crc: 0 }))
    const zip = await openZip(sparse('many.zip', many))
    if (isRefusal(zip)) throw new Error(zip.found)
    expect(zip.members).toHaveLength(70_000)
    await zip.close()
  })
})

needsTool('numpy', 'another reader', (python) => {
  it('finds the same members in a ZIP of more than four gigabytes', () => {
    const program =
      'import sys,zipfile;print([(i.filename,i.file_size,i.header_offset) for i in zipfile.ZipFile(sys.argv[1]).infolist()])'
    const { headers } = layoutOf(members)
    const wanted = members.map(({ name, bytes }, at) => `('${name}', ${bytes}, ${headers[at]?.at})`)
    expect(run(python, ['-c', program, sparse('again.zip', members)]).trim()).toBe(`[${wanted.join(', ')}]`)
  })
})
